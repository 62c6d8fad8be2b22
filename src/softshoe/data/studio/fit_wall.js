/**
 * The figure of a whole wall: its frames are fetched a stretch at a time, a little before they are danced.
 * @module
 */
import { Failure } from "/own/ask.js";
import { drawFigure, framesOf } from "/own/figure.js";

const STRETCH = 8;

export class WallFigure {
  /** @param {HTMLCanvasElement} canvas @param {number} at the stroke of the draft @param {number} counts of a wall */
  constructor(canvas, at, counts) {
    this.canvas = canvas;
    this.at = at;
    this.counts = counts;
    /** @type {Map<number, import("/own/figure.js").Frames>} */
    this.stretches = new Map();
    /** @type {Set<number>} */
    this.asked = new Set();
  }

  /** Show a moment of the wall [counts from 0]. @param {number} moment */
  show(moment) {
    const place = Math.floor(Math.max(0, Math.min(moment, this.counts - 0.001)) / STRETCH);
    this.fetch(place);
    const ahead = (place + 1) * STRETCH;
    this.fetch(ahead < this.counts ? place + 1 : 0);
    const frames = this.stretches.get(place);
    if (frames) drawFigure(this.canvas, frames, moment);
  }

  /** @param {number} place */
  async fetch(place) {
    if (this.asked.has(place)) return;
    this.asked.add(place);
    const first = place * STRETCH;
    try {
      this.stretches.set(place, await framesOf(this.at, first, Math.min(this.counts, first + STRETCH)));
      if (!place && this.stretches.size === 1) this.show(0);
    } catch (wrong) {
      if (!(wrong instanceof Failure)) throw wrong;
      if (wrong.away) this.asked.delete(place);
    }
  }
}
