/**
 * Lead: one press for everything a class needs. What is shown is looked up in the plan by what is heard.
 * @module
 */
import { ask, Failure, made, ofDance, tell, the } from "/own/ask.js";
import { typing } from "/own/frame.js";
import { stayAwake } from "/own/lead_awake.js";
import { Follow } from "/own/lead_figure.js";
import { Link } from "/own/lead_link.js";
import { placeAt, planOf, posAt, QUICKEST, rowAt, sectionAround, SLOWEST, startOf } from "/own/lead_plan.js";
import { Show } from "/own/lead_show.js";
import { Deck } from "/own/lead_sound.js";

/** @typedef {import("/own/lead_plan.js").Plan} Plan */

const FROM_THE_WALL_S = 2.5, STEP = 0.05;
const tempo = the("#tempo", HTMLInputElement), goes = the("#go", HTMLElement), words = the("#sound-words", HTMLElement);
const show = new Show(), deck = new Deck(), figure = new Follow(the("#figure", HTMLCanvasElement));
let plan = /** @type {Plan | null} */ (null);
let countsIn = true, changing = 0, wanted = "";
const link = new Link(deck, (what, n) => { if (what in does) does[/** @type {keyof typeof does} */ (what)](n); });

/** The row that is danced, or would be next. */
const index = () => (plan ? Math.max(0, rowAt(plan.rows, posAt(deck.course, deck.heard()))) : 0);
const block = () => plan?.rows[index()]?.block ?? -1;

/** Play from a second, counted in where it is not the song's own beginning. @param {number} pos */
async function from(pos) {
  if (!plan) return;
  await Promise.race([deck.wake(), new Promise((done) => setTimeout(done, 400))]);
  if (deck.ctx.state !== "running") { tell("Press Go once on this screen, so that the browser lets it sound."); return; }
  if (deck.loop.length && !(pos >= (deck.loop[0] ?? 0) && pos < (deck.loop[1] ?? 0))) deck.loop = [];
  deck.play(pos, countsIn && pos > (plan.rows[0]?.at ?? 0) - 0.01);
  stayAwake();
  stands();
}

/** Where to go on after standing still: the beginning of the section, or of the song before the first wall. */
function goesOnAt() {
  const at = index(), around = plan && sectionAround(plan, at);
  return around ? around[0] : 0;
}

const does = {
  go: () => (deck.decided.running ? (deck.stand(), stands()) : from(goesOnAt())),
  again: () => { if (plan) from(startOf(plan, Math.max(0, block()))); },
  next: () => { if (plan) toBlock(block() + 1); },
  before: () => {
    if (!plan) return;
    const here = Math.max(0, block());
    toBlock(posAt(deck.course, deck.heard()) - startOf(plan, here) > FROM_THE_WALL_S ? here : here - 1);
  },
  start: () => (deck.decided.running ? from(0) : (deck.stand(0), stands())),
  slower: () => setTempo(Number(tempo.value) / 100 - STEP),
  quicker: () => setTempo(Number(tempo.value) / 100 + STEP),
  loop: () => {
    if (!plan) return;
    const around = deck.loop.length ? null : sectionAround(plan, index());
    if (!around && !deck.loop.length) { tell("A section can be looped once the dance has begun."); return; }
    deck.change({ loop: around ?? [] });
    stands();
    tell(around ? "This section comes again and again." : "The dance goes on.");
  },
  wall: (/** @type {number} */ n = 0) => toBlock(n),
};

/** @param {number} to */
function toBlock(to) {
  if (!plan || !plan.blocks.length) return;
  const pos = startOf(plan, Math.max(0, Math.min(plan.blocks.length - 1, to)));
  if (deck.decided.running) { from(pos); return; }
  deck.stand(pos);
  stands();
}

/** @param {number} rate */
function setTempo(rate) {
  const share = Math.round(100 * Math.max(SLOWEST, Math.min(QUICKEST, rate)));
  tempo.value = String(share);
  tempoWords(share);
  clearTimeout(changing);
  changing = setTimeout(() => { if (deck.rate !== share / 100) { deck.change({ rate: share / 100 }); stands(); } }, 120);
}

/** @param {number} share */
function tempoWords(share) {
  const said = plan ? `${share} %, ${Math.round((plan.tempo * share) / 100)} counts a minute` : `${share} %`;
  the("#tempo-words", HTMLOutputElement).value = said.replace(" counts", "");
  tempo.setAttribute("aria-valuetext", said);
}

/** Show how it stands, and tell second devices. */
function stands() {
  const on = deck.decided.running;
  goes.textContent = on ? "Stand still" : "Go";
  document.body.classList.toggle("running", on);
  document.querySelector('[data-do="loop"]')?.setAttribute("aria-pressed", String(deck.loop.length > 0));
  link.report(plan?.version ?? "");
}

function frame() {
  if (plan) {
    const now = deck.heard(), place = placeAt(plan, deck.course, now);
    if (show.show(place)) document.body.dataset.shown = place.label;
    if (place.kind === "over" && deck.decided.running) { deck.stand(0); stands(); }
    figure.at(plan, place, deck.course, now);
  }
  requestAnimationFrame(frame);
}

/** Take a version of the dance. @param {string} version */
async function take(version) {
  try {
    plan = planOf(await ask(`${ofDance("lead/plan")}?version=${encodeURIComponent(version)}`));
  } catch (wrong) {
    if (!(wrong instanceof Failure)) throw wrong;
    words.textContent = wrong.message;
    return;
  }
  deck.take(plan);
  show.take(plan);
  figure.take(plan);
  tempoWords(Number(tempo.value));
  the("#care", HTMLElement).replaceChildren(...plan.care.map((one) => made("p", {}, one)));
  document.body.dataset.ready = plan.version;
  stands();
  await sounds(plan.sound !== "");
}

/** Lead with the song, or with the plain rhythm. @param {boolean} song */
async function sounds(song) {
  const button = the("#with-song", HTMLButtonElement), taken = plan;
  button.hidden = !plan?.sound;
  deck.stand();
  deck.plain = true;
  wanted = song ? "song" : "rhythm";
  if (song && taken) {
    words.textContent = `“${taken.song}” is made ready; until then there is the plain rhythm.`;
    try {
      await deck.load(ofDance("listen/sound"), taken.sound);
      if (taken !== plan || wanted !== "song") return;
      const on = deck.decided.running;
      if (on) deck.stand();
      deck.plain = false;
      if (on) from(goesOnAt());
      words.textContent = `With “${taken.song}”.`;
    } catch {
      words.textContent = "This browser can't play the recording: here is the plain rhythm on its counts.";
    }
  } else words.textContent = taken?.song ? `The plain rhythm, on the counts of “${taken.song}”.` : "The plain rhythm. With a song (Listen, then Fit) the class hears that.";
  button.setAttribute("aria-pressed", String(deck.plain));
  document.body.dataset.sound = deck.plain ? "rhythm" : "song";
  stands();
}

/** @param {string} id @param {(on: boolean) => void} act */
function toggles(id, act) {
  const button = the(id, HTMLButtonElement);
  button.addEventListener("click", () => {
    const on = button.getAttribute("aria-pressed") !== "true";
    button.setAttribute("aria-pressed", String(on));
    act(on);
  });
}

toggles("#count-in", (on) => { countsIn = on; });
toggles("#with-figure", (on) => figure.show(on));
the("#with-song", HTMLButtonElement).addEventListener("click", () => sounds(deck.plain));
the("#whole", HTMLButtonElement).addEventListener("click", whole);
tempo.addEventListener("input", () => setTempo(Number(tempo.value) / 100));
document.querySelector("#version")?.addEventListener("change", (event) => { if (event.target instanceof HTMLSelectElement) take(event.target.value); });
document.addEventListener("click", (event) => {
  const pressed = event.target instanceof Element ? event.target.closest("[data-do], [data-block]") : null;
  if (!(pressed instanceof HTMLElement)) return;
  if (pressed.dataset.block) does.wall(Number(pressed.dataset.block));
  else does[/** @type {keyof typeof does} */ (pressed.dataset.do ?? "go")](0);
  if (event.detail) pressed.blur();
});

function whole() {
  if (document.fullscreenElement) document.exitFullscreen(); else document.documentElement.requestFullscreen().catch(() => tell("This browser does not let a page fill the screen."));
}

/** @type {Record<string, () => void>} */
const KEYS = {
  " ": does.go, PageDown: does.go, PageUp: does.again, ArrowRight: does.next, ArrowLeft: does.before, ArrowUp: does.quicker,
  ArrowDown: does.slower, Home: does.start, l: does.loop, b: does.loop, ".": does.loop, w: whole,
  c: () => the("#count-in", HTMLButtonElement).click(), f: () => the("#with-figure", HTMLButtonElement).click(),
  s: () => { const box = the("#second", HTMLButtonElement); box.click(); box.focus(); }, p: () => the("#with-song", HTMLButtonElement).click(),
};
document.addEventListener("keydown", (event) => {
  const act = KEYS[event.key.length === 1 ? event.key.toLowerCase() : event.key];
  const strip = event.target === tempo; // it has its own arrows; all other keys are the class's
  if (!act || event.defaultPrevented || event.ctrlKey || event.metaKey || event.altKey) return;
  if (strip ? /^(Arrow|Page|Home)/.test(event.key) : typing(event.target)) return;
  if (event.key === " " && event.target instanceof HTMLButtonElement) return;
  event.preventDefault();
  if (!event.repeat) act();
});

if ("serviceWorker" in navigator) navigator.serviceWorker.register("/own/offline.js", { scope: "/" }).catch(() => {});
frame();
await take(document.querySelector("#version")?.querySelector("option")?.value ?? "");
