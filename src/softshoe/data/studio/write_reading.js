/**
 * The reading, drawn line by line: the words of the line, its counts with feet, weight and facing, what was found.
 * @module
 */
import { made, the } from "/own/ask.js";
import { plan } from "/own/plan.js";

/** @typedef {{label: string, moment: number, foot: string, feet: string, arms: string, weight: string, facing: number, turn: number}} Step */
/** @typedef {{number: number, severity: string, head: string, line: number, message: string, mend: string}} Finding */
/** @typedef {{title: string, about: string, counts: number, lines: {line: number, part: string, events: Step[]}[], findings: Finding[], sound: boolean, tempo: number}} View */
/** @typedef {{number: number, words: string, differences: string[]}} Mend */

const WEIGHT = { L: "left bears", R: "right bears", both: "both bear", seat: "" };

/** @param {View} view @param {string} words */
export function drawReading(view, words) {
  const about = the("#about", HTMLElement), box = the("#lines", HTMLElement);
  about.textContent = view.about ? `${view.about}.${view.sound ? " Sound: nothing to mend." : ""}` : "Here stands what the reader makes of your words, while you type.";
  const byLine = new Map(view.lines.map((one) => [one.line, one]));
  /** @type {Map<number, Finding[]>} */
  const found = new Map();
  for (const one of view.findings) found.set(one.line, [...(found.get(one.line) ?? []), one]);
  const turns = view.lines.some((line) => line.events.some((one) => one.turn));
  const drawn = (found.get(0) ?? []).map(drawFinding);
  words.split("\n").forEach((ink, k) => {
    const line = byLine.get(k + 1), findings = found.get(k + 1) ?? [];
    if (!ink.trim() && !findings.length) return;
    const row = made("div", { class: line ? "line" : "line still", "data-line": String(k + 1) }, made("p", { class: "ink" }, ink.trim()));
    if (line) row.append(made("ol", { class: "steps" }, ...line.events.map((one, k) => drawStep(one, turns && (!k || one.turn !== 0)))));
    row.append(...findings.map(drawFinding));
    drawn.push(row);
  });
  box.replaceChildren(...drawn);
}

/** @param {Step} step @param {boolean} looks whether to show where she looks */
function drawStep(step, looks) {
  const foot = step.foot || "none";
  const sign = made("span", { class: `foot ${foot}` }, step.foot === "both" ? "LR" : step.foot || "–");
  const what = [step.feet, step.arms].filter((one) => one && one !== "feet still").join("; ");
  const bears = made("span", { class: "bears" }, WEIGHT[/** @type {keyof typeof WEIGHT} */ (step.weight)] ?? "");
  if (looks) bears.append(plan(step.facing));
  return made("li", {}, made("span", { class: "count" }, step.label), sign, made("span", {}, what), bears);
}

/** @param {Finding} one */
function drawFinding(one) {
  const box = made("div", { class: `finding ${one.severity}`, "data-finding": String(one.number) }, made("p", {}, made("strong", {}, `${one.head}: `), one.message));
  if (one.mend) box.append(made("p", {}, `Mend: ${one.mend}`));
  return box;
}

/** Put a button under each finding that one press mends; it says what it will change.
 * @param {Mend[]} offered @param {(words: string) => void} press */
export function offerMends(offered, press) {
  for (const mend of offered) {
    const box = document.querySelector(`[data-finding="${mend.number}"]`);
    if (!box || box.querySelector("button")) continue;
    const [, was, now] = mend.differences.map((one) => one.trim().replace(/^(was|now): /, ""));
    const button = made("button", { type: "button", class: "mend" }, now === "(taken out)" ? `Take out “${was}”` : `Write “${now}”`);
    button.addEventListener("click", () => press(mend.words));
    box.append(button);
  }
}

/** Mark the line that the cursor is in, bring it into view beside it, and return its number. @param {HTMLTextAreaElement} field */
export function hereIn(field) {
  const line = field.value.slice(0, field.selectionStart).split("\n").length;
  const box = the("#lines", HTMLElement);
  const was = box.querySelector(".here"), now = box.querySelector(`[data-line="${line}"]`);
  if (was === now) return line;
  was?.classList.remove("here");
  if (now instanceof HTMLElement) {
    now.classList.add("here");
    if (now.offsetTop < box.scrollTop || now.offsetTop + now.offsetHeight > box.scrollTop + box.clientHeight) box.scrollTop = now.offsetTop - box.offsetTop - 40;
  }
  return line;
}
