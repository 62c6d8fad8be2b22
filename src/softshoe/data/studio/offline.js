/**
 * The pages that were opened, taken along: what can't be fetched any more comes from here. Only what a class needs is
 * kept; the studio's own answer always comes first.
 * @module
 */
/** @type {any} */
const me = self;
const NAME = "softshoe-lead-1";
const TAKEN = /^\/($|own\/|fonts\/|dance\/[0-9a-f]{32}\/(lead($|\/plan|\/figure)|listen\/sound))/;

me.addEventListener("install", () => me.skipWaiting());
me.addEventListener("activate", (/** @type {any} */ event) => event.waitUntil(me.clients.claim()));
me.addEventListener("fetch", (/** @type {any} */ event) => {
  const address = new URL(event.request.url);
  if (event.request.method !== "GET" || address.origin !== me.location.origin || !TAKEN.test(address.pathname)) return;
  event.respondWith((async () => {
    const kept = await caches.open(NAME);
    try {
      const answer = await fetch(event.request);
      if (answer.status === 200 && !address.searchParams.has("key")) await kept.put(event.request, answer.clone());
      return answer;
    } catch (wrong) {
      const found = await kept.match(event.request);
      if (found) return found;
      throw wrong;
    }
  })());
});
