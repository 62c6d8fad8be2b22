/**
 * The dancing figure on a canvas: frames of marks as the studio sends them, drawn at any moment, straight in between.
 * @module
 */
import { ask, ofDance } from "/own/ask.js";

/** @typedef {(string | number)[]} Mark */
/** @typedef {{wide: number, high: number, first: number, last: number, a_count: number, counts: number, floor: Mark[], frames: Mark[][], colours: string[]}} Frames */

const FAR = 500; // tenths: a mark that moves farther between two frames is another limb
const SHARP = 2;

/** @param {number} at @param {number} first @param {number} last @param {"mirror" | "behind"} view @returns {Promise<Frames>} */
export const framesOf = (at, first, last, view = "mirror") =>
  ask(`${ofDance("figure")}?at=${at}&first=${first}&last=${last}&view=${view}`);

/** Draw the figure at a moment [counts from 0]. @param {HTMLCanvasElement} canvas @param {Frames} frames @param {number} moment */
export function drawFigure(canvas, frames, moment) {
  const pen = canvas.getContext("2d");
  if (!pen) return;
  if (canvas.width !== frames.wide * SHARP) { canvas.width = frames.wide * SHARP; canvas.height = frames.high * SHARP; }
  const place = Math.max(0, Math.min(frames.frames.length - 1, (moment - frames.first) * frames.a_count));
  const low = Math.floor(place), share = place - low;
  const one = frames.frames[low] ?? [], other = frames.frames[low + 1] ?? one;
  const near = share < 0.5 ? one : other;
  const marks = share && alike(one, other) ? one.map((mark, k) => between(mark, other[k] ?? mark, share)) : near;
  pen.setTransform(SHARP / 10, 0, 0, SHARP / 10, 0, 0);
  pen.clearRect(0, 0, frames.wide * 10, frames.high * 10);
  for (const mark of frames.floor) draw(pen, mark, frames.colours);
  for (const mark of marks) draw(pen, mark, frames.colours);
}

/** Whether two frames show the same limbs in the same order. @param {Mark[]} one @param {Mark[]} other */
function alike(one, other) {
  return one.length === other.length && one.every((mark, k) => {
    const then = other[k];
    return then !== undefined && mark.length === then.length && mark[0] === then[0] && mark[1] === then[1] && mark[2] === then[2]
      && Math.abs(Number(mark[4]) - Number(then[4])) < FAR && Math.abs(Number(mark[5]) - Number(then[5])) < FAR;
  });
}

/** @param {Mark} mark @param {Mark} then @param {number} share @returns {Mark} */
const between = (mark, then, share) => mark.map((value, k) => {
  const next = then[k];
  return k > 2 && typeof value === "number" && typeof next === "number" ? value + (next - value) * share : value;
});

/** @param {CanvasRenderingContext2D} pen @param {Mark} mark @param {string[]} colours */
function draw(pen, mark, colours) {
  const [kind, fill, ink, width, ...rest] = mark;
  const numbers = /** @type {number[]} */ (rest);
  pen.beginPath();
  if (kind === "c") pen.arc(numbers[0] ?? 0, numbers[1] ?? 0, numbers[2] ?? 0, 0, 2 * Math.PI);
  else if (kind !== "t") for (let k = 0; k + 1 < numbers.length; k += 2) pen.lineTo(numbers[k] ?? 0, numbers[k + 1] ?? 0);
  if (kind === "p") pen.closePath();
  const paint = colours[Number(fill)], line = colours[Number(ink)];
  if (kind === "t") {
    pen.font = `bold ${Number(rest[2]) * 10}px Words, sans-serif`;
    pen.textAlign = "center";
    pen.fillStyle = paint ?? "#000";
    pen.fillText(String(rest[3]), numbers[0] ?? 0, numbers[1] ?? 0);
    return;
  }
  if (paint) { pen.fillStyle = paint; pen.fill(); }
  if (line) {
    pen.strokeStyle = line;
    pen.lineWidth = Number(width);
    pen.lineJoin = pen.lineCap = "round";
    pen.stroke();
  }
}

/**
 * A figure that dances some counts of its dance when it is told to, once or again and again.
 */
export class Dancer {
  /** @param {HTMLCanvasElement} canvas @param {(moment: number) => void} [told] called with every moment shown */
  constructor(canvas, told = () => {}) {
    this.canvas = canvas;
    this.told = told;
    /** @type {Frames | null} */
    this.frames = null;
    this.turn = 0;
  }

  /** Show a moment. @param {number} moment */
  show(moment) {
    if (!this.frames) return;
    drawFigure(this.canvas, this.frames, moment);
    this.told(moment);
  }

  /** Take other counts and rest at their beginning. @param {Frames} frames */
  take(frames) {
    this.rest();
    this.frames = frames;
    this.show(frames.first);
  }

  /** Dance from the first count. @param {number} bpm @param {boolean} again without end */
  dance(bpm, again) {
    this.rest();
    const frames = this.frames;
    if (!frames) return;
    const turn = this.turn, from = performance.now(), length = frames.last - frames.first;
    const step = () => {
      if (turn !== this.turn) return;
      const gone = ((performance.now() - from) / 60000) * bpm;
      if (gone >= length && !again) { this.show(frames.last); this.turn++; return; }
      this.show(frames.first + (gone % length));
      requestAnimationFrame(step);
    };
    requestAnimationFrame(step);
  }

  /** Stop where it is. */
  rest() { this.turn++; }
}

/** Whether this person wants things to keep still. */
export const keepStill = () => matchMedia("(prefers-reduced-motion: reduce)").matches;
