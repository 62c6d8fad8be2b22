/**
 * Teach: the words of the lesson, kept as they are typed; any part of it previewed at once; films and sheets ordered.
 * @module
 */
import { ask, Failure, made, ofDance, tell, the } from "/own/ask.js";
import { Follow } from "/own/lead_figure.js";
import { placeAt, planOf, posAt } from "/own/lead_plan.js";
import { Deck } from "/own/lead_sound.js";
import { follow, order } from "/own/teach_jobs.js";

/** @typedef {import("/own/lead_plan.js").Plan & {passages: {title: string, start: number, end: number, text: string[], view: string, counts: number}[], captions: [number, number, string][], told: string[]}} Lesson */
/** @typedef {{wrong: {where: string, what: string, why: string, mend: string} | null, line: number, plan: any, words?: string}} View */

const SOON_MS = 400, AGAIN_MS = 1500;
const field = the("#lesson", HTMLTextAreaElement), safe = the("#safe", HTMLElement), wrong = the("#wrong", HTMLElement);
const back = the("#back", HTMLButtonElement), caption = the("#caption", HTMLElement), count = the("#count", HTMLElement), now = the("#now", HTMLElement);
/** @type {Deck | null} */
let deck = null;
const figure = new Follow(the("#figure", HTMLCanvasElement), "teach/figure");
/** @type {Map<string, {from: number, to: number, buffer: AudioBuffer}>} the parts that were heard */
const sounds = new Map();
let lesson = /** @type {Lesson | null} */ (null), playing = -1, kept = "", timer = 0, before = "";

/** @param {View} view */
function draw(view) {
  if (view.words !== undefined) { field.value = kept = view.words; field.readOnly = false; put(safe, "Saved"); }
  wrong.hidden = view.wrong === null;
  if (view.wrong) {
    wrong.replaceChildren(made("p", {}, made("strong", {}, view.line ? `Line ${view.line}: ` : ""), view.wrong.what), made("p", {}, `${view.wrong.why}. Mend: ${view.wrong.mend}.`));
    if (view.line) {
      const go = made("button", { type: "button" }, "Go to the line");
      go.addEventListener("click", () => toLine(view.line));
      wrong.append(go);
    }
  }
  if (!view.plan) return;
  stop();
  lesson = /** @type {Lesson} */ (planOf(view.plan));
  sounds.clear();
  deck?.take(lesson);
  figure.take(lesson);
  the("#told-length", HTMLElement).textContent = `${clock(lesson.end)} in all. ${lesson.told.join(" ")}`;
  the("#passages", HTMLElement).replaceChildren(...lesson.passages.map((one, k) => {
    const button = made("button", { type: "button", "data-passage": String(k), "aria-pressed": "false" }, made("span", {}, one.title || "…"), made("span", { class: "count" }, clock(one.end - one.start)));
    button.addEventListener("click", () => (playing === k ? stop() : play(k)));
    return made("li", {}, button);
  }));
  show(lesson.passages[0]?.start ?? 0);
  document.body.dataset.passages = String(lesson.passages.length);
}

/** @param {number} s */
const clock = (s) => `${Math.floor(s / 60)}:${String(Math.round(s % 60)).padStart(2, "0")}`;

/** @param {number} line */
function toLine(line) {
  const at = field.value.split("\n").slice(0, line - 1).join("\n").length + (line > 1 ? 1 : 0);
  field.focus();
  field.setSelectionRange(at, at + (field.value.slice(at).indexOf("\n") + 1 || field.value.length));
  field.scrollTop = (line - 5) * Number.parseFloat(getComputedStyle(field).lineHeight);
}

/** The sound of a part, voice and rhythm, as it was made; null where it can't be had. @param {Lesson} of @param {number} k @param {Deck} deck */
async function said(of, k, deck) {
  const one = of.passages[k];
  if (!one) return null;
  const known = sounds.get(`${k}`);
  if (known) return known;
  try {
    const answer = await fetch(ofDance(`teach/said/${k}`));
    if (!answer.ok) return null;
    const sound = { from: one.start, to: one.end, buffer: await deck.ctx.decodeAudioData(await answer.arrayBuffer()) };
    if (of === lesson) sounds.set(`${k}`, sound);
    return sound;
  } catch { return null; }
}

/** Play one part from its beginning, once its words are said. @param {number} k */
async function play(k) {
  const one = lesson?.passages[k], of = lesson;
  if (!one || !of) return;
  stop();
  if (!deck) deck = new Deck();
  if (deck.plan !== of) deck.take(of);
  await deck.wake();
  playing = k;
  pressed();
  put(caption, sounds.has(`${k}`) ? "" : "The voice is getting ready …");
  const sound = await said(of, k, deck);
  if (playing !== k || lesson !== of) return;
  if (!sound) tell("The voice can't be heard now; its words are shown.");
  deck.made = sound;
  document.body.dataset.said = sound ? String(k) : "";
  deck.play(one.start, false);
  requestAnimationFrame(frame);
  said(of, k + 1, deck);
}

function stop() {
  if (playing >= 0 && deck?.course.running) deck.stand();
  playing = -1;
  pressed();
}

function pressed() {
  for (const button of document.querySelectorAll("[data-passage]")) button.setAttribute("aria-pressed", String(Number(button instanceof HTMLElement ? button.dataset.passage : -1) === playing));
  document.body.dataset.playing = String(playing);
}

function frame() {
  const one = lesson?.passages[playing];
  if (!one || !lesson || !deck) return;
  const moment = deck.heard(), pos = posAt(deck.course, moment);
  if (pos >= one.end) { stop(); return; }
  show(Math.max(pos, one.start));
  requestAnimationFrame(frame);
}

/** Show a second of the lesson. @param {number} pos */
function show(pos) {
  if (!lesson) return;
  const course = { running: true, pos, at: 0, rate: 1, loop: [], ahead: 0, step: 1 };
  const place = placeAt(lesson, course, 0), row = lesson.rows[place.index], passage = lesson.passages.findLast((one) => one.start <= pos + 1e-6);
  const danced = row && passage && row.at >= passage.start - 1e-6 && pos < passage.end ? row : undefined;
  put(count, danced?.label || "–");
  put(now, danced?.now || passage?.text.join(" · ") || passage?.title || "");
  put(caption, lesson.captions.find(([from, to]) => from <= pos && pos < to)?.[2] ?? "");
  figure.at(lesson, danced ? place : { ...place, index: Math.max(place.index, 0) }, course, 0);
}

/** @param {Element} element @param {string} words */
const put = (element, words) => { if (element.textContent !== words) element.textContent = words; };

async function keep() {
  const words = field.value;
  if (words === kept) return;
  try {
    const view = await ask(ofDance("teach/words"), { body: { words } });
    kept = words;
    if (field.value === words) { put(safe, "Saved"); draw(view); }
  } catch (failed) {
    if (!(failed instanceof Failure)) throw failed;
    put(safe, failed.away ? "Not safe yet: the studio does not answer." : failed.message);
    timer = setTimeout(keep, AGAIN_MS);
  }
}

field.addEventListener("input", () => {
  put(safe, "…");
  clearTimeout(timer);
  timer = setTimeout(keep, SOON_MS);
});
the("#anew", HTMLFormElement).addEventListener("submit", async (event) => {
  event.preventDefault();
  const said = the("#minutes", HTMLInputElement).value;
  before = field.value;
  try {
    draw(await ask(ofDance("teach/anew"), { body: { minutes: said ? Number(said) : null } }));
    back.hidden = false;
    tell("Written anew. Your words before are kept: one press brings them back.");
  } catch (failed) {
    if (!(failed instanceof Failure)) throw failed;
    tell(failed.message);
  }
});
back.addEventListener("click", () => { field.value = before; back.hidden = true; keep(); });
window.addEventListener("beforeunload", (event) => { if (field.value !== kept) event.preventDefault(); });

try {
  draw(await ask(ofDance("teach/lesson")));
} catch (failed) {
  if (!(failed instanceof Failure)) throw failed;
  wrong.hidden = false;
  wrong.textContent = failed.message;
}
const dance = document.body.dataset.dance ?? "", form = the("#order", HTMLFormElement);
form.addEventListener("submit", (event) => {
  event.preventDefault();
  const said = new FormData(form);
  order("order", { parts: said.getAll("part"), kinds: said.getAll("kind"), own: said.getAll("own"), sound: said.get("sound") }, dance);
});
follow(ofDance("teach"), dance);
