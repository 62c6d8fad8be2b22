/**
 * Bodies: versions by plain questions, side by side on the same counts, with a figure each; any step swapped by hand.
 * @module
 */
import { ask, Failure, made, ofDance, tell, the } from "/own/ask.js";
import { Dancer, keepStill } from "/own/figure.js";

/** @typedef {{words: string, same: boolean, why: string, source: string}} Cell */
/** @typedef {{name: string, limits: string[], says: string, motion: string, changed: number, lost: string[], warnings: string[], by_hand: string[], effort: string, care: string[], cautions: string[]}} Version */
/** @typedef {{counts: number, versions: Version[], rows: {count: string, called: string, section: number, cells: Cell[]}[], sections: {number: number, first: number, counts: number, title: string}[]}} View */

const BPM = 80;
const box = the("#beside", HTMLElement), wrong = the("#wrong", HTMLElement), asking = the("#asking", HTMLFormElement);
const section = the("#section", HTMLSelectElement), swap = the("#swap", HTMLDialogElement);
/** @type {View | null} */
let view = null;
/** @type {Dancer[]} */
let dancers = [];
let was = "", swapping = { name: "", count: "" }, dancing = false, asked = 0;

/** Ask, draw what comes, say what went wrong. @param {string} path @param {unknown} [body] */
async function doing(path, body) {
  try {
    draw(await ask(ofDance(`bodies/${path}`), body === undefined ? {} : { body }));
    wrong.hidden = true;
    return true;
  } catch (failed) {
    if (!(failed instanceof Failure)) throw failed;
    wrong.textContent = failed.message;
    wrong.hidden = false;
    return false;
  }
}

/** @param {View} now */
function draw(now) {
  view = now;
  const names = now.versions.map((one) => one.name).join("\n");
  box.replaceChildren(table(now));
  the("#notes", HTMLElement).replaceChildren(...now.versions.slice(1).map(notes));
  const at = section.value;
  section.replaceChildren(...now.sections.map((one) => made("option", { value: String(one.number) }, `${one.number}: ${one.title}`)));
  if (now.sections.some((one) => String(one.number) === at)) section.value = at;
  document.body.dataset.versions = String(now.versions.length);
  figures(names);
}

/** @param {View} now */
function table(now) {
  const head = made("tr", {}, made("th", { scope: "col" }, "Count"), ...now.versions.map((one) => {
    const cell = made("th", { scope: "col" }, one.name);
    if (one !== now.versions[0]) {
      const again = made("button", { type: "button", "aria-label": `Change the answers of ${one.name}` }, "Change");
      const gone = made("button", { type: "button", "aria-label": `Take away ${one.name}` }, "Take away");
      again.addEventListener("click", () => open(one.name, one.limits));
      gone.addEventListener("click", () => doing("gone", { name: one.name }));
      cell.append(made("span", { class: "says" }, one.says), made("span", { class: "row" }, again, gone));
    } else cell.append(made("span", { class: "says" }, one.says));
    return cell;
  }));
  const body = made("tbody");
  let last = -1;
  for (const row of now.rows) {
    if (row.section !== last) {
      last = row.section;
      const title = now.sections.find((one) => one.number === last);
      if (title) body.append(made("tr", { class: "part" }, made("th", { colspan: String(now.versions.length + 1), scope: "colgroup" }, `Section ${title.number}: ${title.title}`)));
    }
    body.append(made("tr", {}, made("th", { scope: "row", class: "count" }, row.called), ...row.cells.map((cell, k) => drawn(cell, row.count, now.versions[k], k))));
  }
  return made("table", { class: "versions" }, made("thead", {}, head), body);
}

/** @param {Cell} cell @param {string} count @param {Version | undefined} version @param {number} k */
function drawn(cell, count, version, k) {
  if (!k || !version) return made("td", {}, cell.words);
  const hand = version.by_hand.some((one) => one.split("=")[0]?.trim() === count);
  const inside = made("td", { class: cell.same ? "same" : "changed" });
  const button = made("button", { type: "button", class: "step-button", "aria-label": `Count ${count}, ${version.name}: ${cell.words}. Swap it` }, cell.same ? "" : "≠ ", cell.words);
  button.addEventListener("click", () => openSwap(version, count, cell.words));
  inside.append(button);
  if (cell.why) inside.append(made("span", { class: "why" }, hand ? "Your own word." : cell.why));
  return inside;
}

/** @param {Version} one */
function notes(one) {
  const list = (/** @type {string[]} */ words) => made("ul", {}, ...words.map((word) => made("li", {}, word)));
  const part = made("section", { class: "note-of" }, made("h2", {}, one.name), made("p", {}, `${one.changed === 1 ? "One count is" : `${one.changed} counts are`} danced otherwise. Effort: ${one.effort}.`));
  if (one.warnings.length) part.append(made("div", { class: "finding warning" }, made("p", {}, made("strong", {}, "Please check: ")), list(one.warnings)));
  if (one.lost.length) part.append(made("p", {}, "What could not be kept:"), list(one.lost));
  const more = made("details", {}, made("summary", {}, `Before you begin, and ${one.cautions.length} cautions`), ...one.care.map((word) => made("p", {}, word)), list(one.cautions));
  part.append(more);
  return part;
}

/** One figure a version; they begin and end together. @param {string} names */
async function figures(names) {
  const place = the("#figures", HTMLElement), now = view;
  if (!now) return;
  if (place.dataset.names !== names) {
    dancers.forEach((one) => one.rest());
    dancers = [];
    place.dataset.names = names;
    place.replaceChildren(...now.versions.map((one) => {
      const canvas = /** @type {HTMLCanvasElement} */ (made("canvas", { width: "360", height: "420", role: "img", "aria-label": `${one.name} dances` }));
      dancers.push(new Dancer(canvas));
      return made("figure", {}, canvas, made("figcaption", {}, one.name));
    }));
  }
  await brought();
}

/** Bring the frames of the section and let the figures dance it once. */
async function brought() {
  const now = view, mine = ++asked, part = now?.sections.find((one) => String(one.number) === section.value);
  if (!now || !part) return;
  const last = Math.min(part.first + part.counts, now.counts);
  const frames = await Promise.all(now.versions.map((one) => {
    const query = new URLSearchParams({ version: one.name, motion: one.motion, first: String(part.first), last: String(last) });
    return ask(`${ofDance("lead/figure")}?${query}`).catch(() => null);
  }));
  if (mine !== asked) return;
  frames.forEach((one, k) => { if (one) dancers[k]?.take(one); });
  document.body.dataset.figures = String(frames.filter(Boolean).length);
  if (dancing) dancers.forEach((one) => one.dance(BPM, true));
  else if (!keepStill()) dancers.forEach((one) => one.dance(BPM, false));
}

/** @param {string} name @param {string[]} limits */
function open(name, limits) {
  was = name;
  asking.hidden = false;
  the("#ask", HTMLElement).setAttribute("aria-expanded", "true");
  the("#name", HTMLInputElement).value = name;
  for (const input of boxes()) input.checked = limits.includes(input.value);
  settle();
  the("#name", HTMLInputElement).focus();
}

const boxes = () => [...asking.querySelectorAll("input[type=checkbox]")].filter((one) => one instanceof HTMLInputElement);

/** Questions that an answer settles need no answer. */
function settle() {
  const yes = new Set(boxes().filter((one) => one.checked).map((one) => one.value));
  for (const input of boxes()) {
    const row = input.closest("li");
    const settled = (row?.dataset.settled ?? "").split(",").some((one) => yes.has(one));
    if (settled) input.checked = false;
    if (row) row.hidden = settled;
  }
}

function close() {
  asking.hidden = true;
  the("#ask", HTMLElement).setAttribute("aria-expanded", "false");
}

/** @param {Version} version @param {string} count @param {string} words */
function openSwap(version, count, words) {
  swapping = { name: version.name, count };
  the("#swap-head", HTMLElement).textContent = `Count ${count}, ${version.name}`;
  the("#swap-was", HTMLElement).textContent = `Now: ${words}`;
  the("#swap-words", HTMLInputElement).value = version.by_hand.find((one) => one.split("=")[0]?.trim() === count)?.split("=")[1] ?? "";
  the("#swap-wrong", HTMLElement).textContent = "";
  swap.showModal();
}

the("#swap-form", HTMLFormElement).addEventListener("submit", async (event) => {
  const said = event.submitter instanceof HTMLButtonElement ? event.submitter.value : "put";
  if (said === "leave") return;
  event.preventDefault();
  const words = said === "back" ? "" : the("#swap-words", HTMLInputElement).value;
  try {
    draw(await ask(ofDance("bodies/swap"), { body: { ...swapping, words } }));
    swap.close();
    tell(words ? `Count ${swapping.count} is danced your way.` : `Count ${swapping.count} is as it was found.`);
  } catch (failed) {
    if (!(failed instanceof Failure)) throw failed;
    the("#swap-wrong", HTMLElement).textContent = failed.message;
  }
});

the("#ready", HTMLElement).addEventListener("click", (event) => {
  const button = event.target instanceof HTMLButtonElement ? event.target : null;
  if (button?.dataset.name) doing("wish", { name: button.dataset.name, limits: (button.dataset.limits ?? "").split(",").filter(Boolean) });
});
the("#ask", HTMLButtonElement).addEventListener("click", () => (asking.hidden ? open("", []) : close()));
the("#leave", HTMLButtonElement).addEventListener("click", close);
asking.addEventListener("change", settle);
asking.addEventListener("submit", async (event) => {
  event.preventDefault();
  const limits = boxes().filter((one) => one.checked).map((one) => one.value);
  if (await doing("wish", { name: the("#name", HTMLInputElement).value, limits, was })) { close(); was = ""; }
});
section.addEventListener("change", brought);
the("#together", HTMLButtonElement).addEventListener("click", (event) => {
  dancing = !dancing;
  if (event.currentTarget instanceof HTMLElement) event.currentTarget.setAttribute("aria-pressed", String(dancing));
  if (dancing) dancers.forEach((one) => one.dance(BPM, true)); else dancers.forEach((one) => one.rest());
});
await doing("view");
