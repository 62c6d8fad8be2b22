/**
 * The small plan of the room: its front wall thick, an arrow where the dancer looks.
 * @module
 */
import { drawn } from "/own/song_lines.js";

/** Degrees clockwise as the clock says them. @param {number} deg */
export const oClock = (deg) => `${((Math.round(deg / 30) + 11) % 12) + 1} o'clock`;

/** @param {number} deg @param {boolean} [silent] where the words stand beside it anyway */
export function plan(deg, silent = false) {
  const said = silent ? { "aria-hidden": "true" } : { role: "img", "aria-label": `facing ${oClock(deg)}` };
  const line = (/** @type {string} */ d, /** @type {number} */ width, /** @type {number} */ turn) =>
    drawn("path", { d, "stroke-width": width, fill: "none", stroke: "currentColor", transform: `rotate(${turn})` });
  return drawn("svg", { viewBox: "-14 -14 28 28", class: "plan", ...said },
    line("M-12-12H12", 3, 0), line("M-12-12V12H12V-12", 1, 0), line("M0 7V-6M-4-2L0-7L4-2", 2.4, deg));
}
