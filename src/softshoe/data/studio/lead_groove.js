/**
 * The plain rhythm, struck anew for every tempo: soft drums and a low note on the plan's own counts, and the sticks
 * that count in. Nobody's recording is in it.
 * @module
 */
import { rowAt } from "/own/lead_plan.js";

/** @typedef {import("/own/lead_plan.js").Plan} Plan */

const TAU = 2 * Math.PI;

/** A stroke, by what it does at t seconds. @param {number} hz @param {number} length @param {(t: number) => number} sounds */
function stroke(hz, length, sounds) {
  return Float32Array.from({ length: Math.round(hz * length) }, (_, k) => sounds(k / hz));
}

/** The strokes at a rate of samples. @param {number} hz @returns {Record<string, Float32Array>} */
export function strokes(hz) {
  let seed = 7;
  const noise = () => { seed = (seed * 16807) % 2147483647; return seed / 1073741823.5 - 1; };
  return {
    low: stroke(hz, 0.3, (t) => 0.85 * Math.sin(TAU * (52 * t + 3.2 * (1 - Math.exp(-t * 28)))) * Math.exp(-t * 13) * Math.min(1, t * 900)),
    high: stroke(hz, 0.16, (t) => 0.3 * (noise() * 0.7 + Math.sin(TAU * 190 * t)) * Math.exp(-t * 26)),
    shake: stroke(hz, 0.05, (t) => 0.11 * noise() * Math.exp(-t * 90)),
    note: stroke(hz, 0.45, (t) => 0.34 * (Math.sin(TAU * 98 * t) + 0.3 * Math.sin(TAU * 196 * t)) * Math.exp(-t * 6) * Math.min(1, t * 250)),
    fifth: stroke(hz, 0.45, (t) => 0.3 * (Math.sin(TAU * 73.4 * t) + 0.3 * Math.sin(TAU * 146.8 * t)) * Math.exp(-t * 6) * Math.min(1, t * 250)),
    block: stroke(hz, 0.09, (t) => 0.32 * Math.sin(TAU * 620 * t) * Math.exp(-t * 52)),
    sticks: stroke(hz, 0.07, (t) => 0.55 * Math.sin(TAU * 1450 * t) * Math.exp(-t * 75)),
  };
}

/** What is struck on a count. @param {number} number @param {number} per @returns {string[]} */
function struck(number, per) {
  if (per === 6) return number === 1 ? ["low", "note", "block"] : number === 4 ? ["low", "fifth"] : ["high", "shake"];
  if (number % 2 === 0) return ["high", "shake"];
  return number === 1 ? ["low", "note", "block"] : ["low", number % 4 === 1 ? "note" : "fifth", "shake"];
}

/** The rhythm of a whole plan, one channel, so that second t of the song is t / rate. Half counts get a soft shaker.
 * @param {Plan} plan @param {number} rate @param {number} hz */
export function groove(plan, rate, hz) {
  const sounds = strokes(hz);
  const out = new Float32Array(Math.ceil(((plan.end + 0.6) / rate) * hz));
  /** @param {string} name @param {number} at */
  const add = (name, at) => {
    const from = Math.round((at / rate) * hz), sound = sounds[name];
    if (!sound) return;
    for (let k = 0; k < sound.length && from + k < out.length; k++) out[from + k] = (out[from + k] ?? 0) + (sound[k] ?? 0);
  };
  plan.rows.forEach((row, k) => {
    const number = Number.parseInt(row.label, 10);
    if (!number) return;
    for (const name of struck(number, plan.per)) add(name, row.at);
    const then = plan.rows[k + 1];
    if (then && plan.per === 8 && (then.at - row.at) / rate > 0.42) add("shake", (row.at + then.at) / 2);
  });
  return out;
}

/** The counts before a start: how many, and how long each lasts at this rate [s]. @param {Plan} plan @param {number} pos @param {number} rate */
export function countIn(plan, pos, rate) {
  const index = Math.max(0, rowAt(plan.rows, pos + 0.01));
  const here = plan.rows[index], then = plan.rows[index + 1] ?? plan.rows[index];
  const step = here && then && then.at > here.at ? then.at - here.at : 60 / plan.tempo;
  return { counts: plan.per / 2, step: step / rate };
}
