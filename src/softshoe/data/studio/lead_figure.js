/**
 * The figure dances along with a class: frames come eight counts at a time, a little ahead of when they are needed.
 * @module
 */
import { ask, ofDance } from "/own/ask.js";
import { drawFigure, keepStill } from "/own/figure.js";
import { posAt } from "/own/lead_plan.js";

/** @typedef {import("/own/lead_plan.js").Plan} Plan @typedef {import("/own/figure.js").Frames} Frames */

const PIECE = 8;

export class Follow {
  /** @param {HTMLCanvasElement} canvas @param {string} path where its frames are asked for, below the dance */
  constructor(canvas, path = "lead/figure") {
    this.canvas = canvas;
    this.path = path;
    /** @type {Map<string, Frames | null>} */
    this.pieces = new Map();
    this.of = "";
    this.drawn = "";
  }

  /** @param {Plan} plan */
  take(plan) {
    if (this.of !== `${plan.dance} ${plan.version}`) this.pieces.clear();
    this.of = `${plan.dance} ${plan.version}`;
    this.drawn = "";
  }

  /** @param {boolean} on */
  show(on) {
    this.canvas.hidden = !on;
    document.body.classList.toggle("with-figure", on);
  }

  /** @param {Plan} plan @param {import("/own/lead_plan.js").Place} place @param {import("/own/lead_plan.js").Course} course @param {number} now */
  at(plan, place, course, now) {
    if (this.canvas.hidden) return;
    const row = plan.rows[place.index], first = plan.rows[plan.blocks[0]?.first ?? 0];
    const shown = row?.motion ? row : first;
    if (!shown?.motion) return;
    const then = plan.rows[place.index + 1], pos = posAt(course, now);
    const moves = row?.motion && place.kind === "on" && then ? Math.min(1, Math.max(0, (pos - row.at) / (then.at - row.at))) : 0;
    const moment = shown.moment + (keepStill() ? Math.round(moves * 2) / 2 : moves);
    const piece = this.piece(plan, shown.motion, shown.moment);
    const coming = plan.rows[place.index + PIECE / 2];
    if (coming?.motion) this.piece(plan, coming.motion, coming.moment);
    const key = `${shown.motion} ${moment.toFixed(3)} ${piece !== null}`;
    if (!piece || key === this.drawn) return;
    this.drawn = key;
    drawFigure(this.canvas, piece, moment);
  }

  /** @param {Plan} plan @param {string} motion @param {number} moment @returns {Frames | null} */
  piece(plan, motion, moment) {
    const first = Math.floor(moment / PIECE) * PIECE, key = `${motion} ${first}`;
    const held = this.pieces.get(key);
    if (held !== undefined) return held;
    this.pieces.set(key, null);
    this.bring(plan, motion, first, key);
    return null;
  }

  /** @param {Plan} plan @param {string} motion @param {number} first @param {string} key */
  async bring(plan, motion, first, key) {
    const most = Math.max(...plan.rows.filter((row) => row.motion === motion).map((row) => row.moment)) + 1;
    const query = new URLSearchParams({ version: plan.version, motion, first: String(first), last: String(Math.min(first + PIECE, most)) });
    try {
      this.pieces.set(key, await ask(`${ofDance(this.path)}?${query}`));
    } catch {
      setTimeout(() => this.pieces.delete(key), 5000);
    }
  }
}
