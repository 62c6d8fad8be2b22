/**
 * The figure beside the reading dances the line that the cursor is in: once when the cursor comes, or without end.
 * @module
 */
import { Failure, the } from "/own/ask.js";
import { Dancer, framesOf, keepStill } from "/own/figure.js";

const canvas = the("#figure", HTMLCanvasElement), now = the("#now", HTMLElement);
const button = the("#dance", HTMLButtonElement), side = the("#view", HTMLButtonElement);
/** @typedef {import("/own/write_reading.js").View} View @typedef {import("/own/write_reading.js").Step} Step */
/** @type {Step[]} */
let steps = [];
let shown = "", bpm = 100, asked = 0, told = "";
/** @type {[View, number, number] | null} */
let last = null;
const dancer = new Dancer(canvas, tell);

/** Say what is danced at a moment. @param {number} moment */
function tell(moment) {
  const step = steps.findLast((one) => one.moment <= moment + 0.35) ?? steps[0];
  if (!step || step.label + step.feet === told) return;
  told = step.label + step.feet;
  const count = document.createElement("span");
  count.className = "count";
  count.textContent = step.label;
  now.replaceChildren(count, [step.feet, step.arms].filter((one) => one && one !== "feet still").join("; "));
}

/** Show a line of the sheet. @param {View} view @param {number} line @param {number} at the stroke it was kept as */
export async function showLine(view, line, at) {
  const dancing = view.lines.filter((one) => !one.part);
  const here = dancing.find((one) => one.line === line) ?? dancing.findLast((one) => one.line < line) ?? dancing[0];
  last = [view, line, at];
  if (!here || !here.events.length) { now.textContent = ""; return; }
  const first = Math.floor(here.events[0]?.moment ?? 0);
  const next = dancing.find((one) => one.line > here.line)?.events[0]?.moment ?? view.counts;
  const until = Math.min(view.counts, Math.max(first + 1, Math.ceil(next > first ? next : first + 1)));
  const looks = side.getAttribute("aria-pressed") === "true" ? "behind" : "mirror";
  const what = JSON.stringify([at, first, until, looks]);
  if (what === shown) return;
  shown = what;
  const mine = ++asked;
  steps = here.events;
  bpm = view.tempo;
  try {
    const frames = await framesOf(at, first, until, looks);
    if (mine !== asked) return;
    dancer.take(frames);
    canvas.setAttribute("aria-label", `The figure dances: ${steps.map((one) => `${one.label} ${one.feet}`).join(", ")}`);
    const again = button.getAttribute("aria-pressed") === "true";
    if (again || !keepStill()) dancer.dance(bpm, again);
  } catch (wrong) {
    if (!(wrong instanceof Failure)) throw wrong;
    shown = "";
  }
}

button.setAttribute("aria-pressed", "false");
button.addEventListener("click", () => {
  const again = button.getAttribute("aria-pressed") !== "true";
  button.setAttribute("aria-pressed", String(again));
  if (again) dancer.dance(bpm, true); else dancer.rest();
});
side.addEventListener("click", () => {
  side.setAttribute("aria-pressed", String(side.getAttribute("aria-pressed") !== "true"));
  if (last) showLine(...last);
});
