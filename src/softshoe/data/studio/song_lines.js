/**
 * A song drawn like a page of writing: a phrase a line, a count of eight a box, its counts as beads on a thread.
 * @module
 */
import { made } from "/own/ask.js";

/** @typedef {{kind: string, number: number, beats: number[], ends: number, ones: number[], extra: number, begins: number | null, sure: string, tempo: number | null}} SongLine */
/** @typedef {{title: string, lines: SongLine[], tempo: number, metre: number, first: number, end: number, why: string[], findings: import("/own/write_reading.js").Finding[], ways: {tempo: number, first: number, metre: number}[], words: string, wave: string, wave_hz: number, said: number, unsaid: number}} Song */
/** @typedef {{from: number, line: number, number: number, name: string}} Eight */

const SLOT = 27, HIGH = 52, MIDDLE = 30, SWING = 18, PIECES = 4;
const SVG = "http://www.w3.org/2000/svg";

/** @param {string} tag @param {Record<string, string | number>} attributes @param {...Node} inside */
export function drawn(tag, attributes, ...inside) {
  const element = document.createElementNS(SVG, tag);
  for (const [name, value] of Object.entries(attributes)) element.setAttribute(name, String(value));
  element.append(...inside);
  return element;
}

/** Seconds as people say them. @param {number} seconds */
export const clock = (seconds) => `${Math.floor(seconds / 60)}:${String(Math.floor(seconds % 60)).padStart(2, "0")}`;

/** The wave as numbers from 0 to 1. @param {Song} song */
function swings(song) {
  const bytes = atob(song.wave);
  return { at: (/** @type {number} */ s) => (bytes.charCodeAt(Math.min(bytes.length - 1, Math.max(0, Math.round(s * song.wave_hz)))) || 0) / 255, there: bytes.length > 0 };
}

/** Draw all lines. @param {Song} song @returns {HTMLElement[]} */
export function drawLines(song) {
  const wave = swings(song);
  return song.lines.map((line, place) => {
    const cuts = [...line.ones];
    if (cuts[0] !== 0) cuts.unshift(0);
    const boxes = cuts.map((from, k) => box(song, line, place, k, from, cuts[k + 1] ?? line.beats.length, wave));
    const what = line.kind === "intro" ? "intro" : line.kind === "on" ? "" : String(line.number);
    const name = made("div", { class: "name" }, made("strong", { class: "count" }, what), made("span", {}, clock(line.beats[0] ?? 0)));
    const counted = `${line.beats.length} counts${line.extra ? `, ${line.extra} extra` : ""}${line.tempo ? `, ${Math.round(line.tempo)} bpm` : ""}`;
    const sure = made("div", {}, counted, made("div", { class: "sure" }, line.sure));
    const kind = `song-line ${line.kind} ${line.sure.split(" ")[0] ?? ""}`;
    return made("div", { class: kind }, name, made("div", { class: "eights" }, ...boxes), sure);
  });
}

/** @param {Song} song @param {SongLine} line @param {number} place @param {number} k @param {number} from @param {number} to @param {ReturnType<typeof swings>} wave */
function box(song, line, place, k, from, to, wave) {
  const eight = 2 * song.metre, n = to - from, wide = n * SLOT;
  const x = (/** @type {number} */ i) => (i + 0.5) * SLOT;
  const svg = drawn("svg", { viewBox: `0 0 ${wide} ${HIGH}`, width: wide, height: HIGH, "aria-hidden": "true" });
  const edge = (/** @type {number} */ i) => line.beats[i] ?? line.ends;
  if (wave.there) {
    const top = [];
    for (let i = 0; i < n * PIECES; i++) {
      const beat = from + Math.floor(i / PIECES), part = (i % PIECES) / PIECES;
      const at = edge(beat) + (edge(beat + 1) - edge(beat)) * part;
      top.push([(i + 0.5) * (SLOT / PIECES), Math.max(0.05, wave.at(at)) * SWING]);
    }
    const points = [...top.map(([px, s]) => `${px},${MIDDLE - (s ?? 0)}`), ...top.reverse().map(([px, s]) => `${px},${MIDDLE + (s ?? 0)}`)];
    svg.append(drawn("polygon", { class: "wave", points: points.join(" ") }));
  }
  svg.append(drawn("line", { class: "thread", x1: 0, x2: wide, y1: MIDDLE, y2: MIDDLE }));
  for (let i = from; i < to; i++) {
    const at = line.beats[i] ?? 0, isOne = line.ones.includes(i), extra = i >= line.beats.length - line.extra;
    const starts = line.begins === i, name = `bead${starts ? " starts" : ""}${extra ? " extra" : ""}`;
    const mark = extra
      ? drawn("rect", { class: name, x: -5, y: -5, width: 10, height: 10, transform: `translate(${x(i - from)} ${MIDDLE}) rotate(45)`, "data-at": at })
      : drawn("circle", { class: name, cx: x(i - from), cy: MIDDLE, r: isOne ? 11 : 4, "data-at": at });
    const group = drawn("g", starts || (isOne && !extra) ? { class: "one", "data-one": at, ...(starts ? { "data-starts": 1 } : {}) } : {}, mark);
    if (isOne && !extra) group.append(words(x(i - from), String(line.ones.indexOf(i) + 1)));
    if (starts) group.append(drawn("path", { class: "flag", d: `M${x(i - from)} 3l14 5l-14 5z` }));
    svg.append(group);
  }
  const first = line.beats[from] ?? 0, short = n < eight ? `, ${n} counts` : "";
  const said = line.kind === "intro" ? "Intro" : `Phrase ${line.number}`;
  const begins = line.begins !== null && line.begins >= from && line.begins < to ? ", the dance begins" : "";
  const label = `${said}, count of ${eight === 8 ? "eight" : "six"} ${k + 1}, ${clock(first)}${short}${begins}`;
  return made("button", { type: "button", class: "eight", "aria-label": label, "aria-pressed": "false", "data-from": String(first), "data-line": String(place), "data-length": String((edge(to) - first) / n) }, svg);
}

/** @param {number} x @param {string} said */
function words(x, said) {
  const text = drawn("text", { class: "one-words", x, y: MIDDLE + 5 });
  text.textContent = said;
  return text;
}
