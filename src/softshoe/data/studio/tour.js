/**
 * The first-run tour: on the demo dance, place after place, one sentence at a time. It can be left at any moment and
 * hides nothing: what it speaks of is framed and can be tried at once.
 * @module
 */
import { made } from "/own/ask.js";

/** @typedef {{place: string, at: string, words: string}} Stop */
/** @type {Stop[]} */
const STOPS = [
  { place: "write", at: "#words", words: "This is a dance as a leader writes it. Change a word: what it says stands beside it at once, and it is kept while you type." },
  { place: "write", at: "#lines", words: "Line by line: the counts, which foot, what bears, where she looks. What could be wrong stands under its words; where it is certain, one press mends it." },
  { place: "write", at: ".dancing", words: "The figure dances the line that your cursor is in. Striped is left, plain is right." },
  { place: "listen", at: "#choose:not([hidden]), #song-lines", words: "Here the song comes in. Press “Take the demo song”: it is heard on this computer, which takes a few seconds. Nothing leaves it." },
  { place: "listen", at: "#song-lines", words: "The song like a page of writing: a line is a phrase, a box a count of eight. Press a box to hear it from there. Where a “one” is wrong, drag it: your word wins." },
  { place: "fit", at: "#ways", words: "Ways to lay the dance on the song, the best first, each with its tags and restarts. Take the one you like." },
  { place: "fit", at: ".stage", words: "Press Play: the count, the wall and the figure run with the song, as slow as you like." },
  { place: "fit", at: ".places", words: "That is the way through. Whatever you do, “Back” and “Take back” undo it, and the places above are always open." },
];
const KEPT = "tour";

/** Begin, or go on where another page left off. */
export function tour() {
  if (location.hash === "#tour") { sessionStorage.setItem(KEPT, "0"); history.replaceState(null, "", location.pathname); }
  const now = Number(sessionStorage.getItem(KEPT) ?? -1);
  if (now >= 0) show(now);
}

/** @param {number} number */
function show(number) {
  document.querySelector("#tour")?.remove();
  document.querySelector(".toured")?.classList.remove("toured");
  const stop = STOPS[number];
  if (!stop) { sessionStorage.removeItem(KEPT); return; }
  sessionStorage.setItem(KEPT, String(number));
  if (document.body.dataset.here !== stop.place) return;
  const next = made("button", { type: "button", class: "main" }, number + 1 < STOPS.length ? "Next" : "That is all");
  next.addEventListener("click", () => go(number + 1));
  const leave = made("button", { type: "button" }, "Leave the tour");
  leave.addEventListener("click", () => show(-1));
  const panel = made("aside", { id: "tour", "aria-label": "The tour" }, made("p", { tabindex: "-1" }, `${number + 1} of ${STOPS.length}. ${stop.words}`), made("div", { class: "row" }, next, leave));
  document.querySelector("main")?.append(panel);
  const target = document.querySelector(stop.at);
  target?.classList.add("toured");
  target?.scrollIntoView({ block: "nearest" });
  panel.querySelector("p")?.focus({ preventScroll: true });
}

/** @param {number} number */
function go(number) {
  const place = STOPS[number]?.place;
  if (!place || place === document.body.dataset.here) { show(number); return; }
  sessionStorage.setItem(KEPT, String(number));
  const link = document.querySelector(`.places a[href$="/${place}"]`);
  if (link instanceof HTMLAnchorElement) link.click();
}
