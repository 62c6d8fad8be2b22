/**
 * What another window wrote of the same dance: both stay kept, the difference is shown, and one press settles it.
 * @module
 */
import { made, the } from "/own/ask.js";

/** @typedef {{at: number, words: string, goes_on: boolean, differences: string[]}} Beside */

/** @param {Beside | null} other @param {{take: () => void, mine: () => void}} press */
export function showBeside(other, press) {
  const box = the("#beside", HTMLElement);
  if (!other) { box.hidden = true; box.replaceChildren(); return; }
  const what = JSON.stringify([other.at, other.goes_on, other.differences]);
  if (!box.hidden && box.dataset.what === what) return;
  box.dataset.what = what;
  const head = made("h2", {}, other.goes_on ? "Another window went on from here" : "Another window wrote something else");
  const list = made("ul", { class: "change" });
  for (let k = 0; k + 2 < other.differences.length; k += 3) {
    const [line, was, now] = other.differences.slice(k, k + 3).map((one) => one.trim());
    list.append(made("li", {}, `${line}: here “${(was ?? "").replace(/^was: /, "")}”, there “${(now ?? "").replace(/^now: /, "")}”`));
  }
  const take = made("button", { type: "button" }, "Take the other words");
  take.addEventListener("click", press.take);
  const buttons = made("div", { class: "row" }, take);
  if (!other.goes_on) {
    const mine = made("button", { type: "button" }, "Stay with these words");
    mine.addEventListener("click", press.mine);
    buttons.append(mine);
  }
  box.replaceChildren(head, made("p", {}, "Both are kept; “Back” leads to either."), list, buttons);
  box.hidden = false;
}
