/** Every screen is for everybody: rules of accessibility, contrast, narrow screens, large type, targets for a thumb. */
import { holds, scene } from "../studio.mjs";

async function open(studio, barriers, name, address, ready) {
  const { page } = studio;
  await page.goto(`${studio.base}${address}`);
  if (ready) await page.waitForSelector(ready);
  for (const one of await studio.barriers()) barriers.push(`${name}: ${one}`);
  await studio.picture(name);
}

/** Every screen once. @param {import("../studio.mjs").Studio} studio @param {boolean} filled whether to wait for what fills it */
async function barriersOfAll(studio, filled) {
  const { page } = studio;
  await page.goto(`${studio.base}/`);
  const dance = await page.locator(".recent a").filter({ hasText: "Kettle" }).first().getAttribute("href");
  const of = dance?.replace(/write$/, "");
  const full = (ready) => filled ? ready : "";
  /** @type {string[]} */
  const barriers = [];
  await open(studio, barriers, "start", "/");
  await open(studio, barriers, "write", `${of}write`, full("body[data-read]"));
  await open(studio, barriers, "listen", `${of}listen`, full("body[data-counted]"));
  await open(studio, barriers, "fit", `${of}fit`, full("body[data-walls]"));
  for (const place of ["bodies", "teach", "lead"]) await open(studio, barriers, place, `${of}${place}`);
  await open(studio, barriers, "keep", "/keep");
  await open(studio, barriers, "keys", "/keys");
  await open(studio, barriers, "not-here", "/nothing/is/here");
  return barriers.join("\n");
}

scene("no screen has a barrier, at 320 pixels and at twice the size too", async (studio) => {
  const barriers = await barriersOfAll(studio, true);
  holds(!barriers, barriers);
});

scene("no screen has a barrier while the answers that fill it are on their way", async (studio) => {
  let late = 0;
  await studio.context.route("**/*", (route) => {
    if (route.request().headers().accept !== "application/json") return route.continue();
    late += 1;
    return undefined; // nothing comes while the page stands
  });
  try {
    const barriers = await barriersOfAll({ ...studio, __proto__: studio, picture: async () => {} }, false);
    holds(late > 5, `only ${late} answers were kept back`);
    holds(!barriers, barriers);
  } finally {
    await studio.page.goto("about:blank");
    await studio.context.unrouteAll({ behavior: "ignoreErrors" });
  }
});
