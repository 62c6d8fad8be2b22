/**
 * The plan of a class: every count with its second, and what is where. Whatever is shown is looked up here, by the
 * second that is heard; nothing is ever added up.
 * @module
 */

/** @typedef {{at: number, label: string, block: number, section: number, facing: number, turn: number, now: string, next: string, motion: string, moment: number}} Row */
/** @typedef {{kind: "wall" | "tag", wall: number, first: number, counts: number, facing: number, looks: string, title: string, cut: boolean}} Block */
/** @typedef {{title: string, per: number, seated: boolean, end: number, tempo: number, rows: Row[], blocks: Block[], sections: {number: number, title: string}[], ends: string, care: string[], dance: string, version: string, song: string, sound: string}} Plan */
/** @typedef {{running: boolean, pos: number, at: number, rate: number, loop: number[], ahead: number, step: number}} Course */
/** @typedef {{kind: "still" | "ahead" | "on" | "over", index: number, label: string, left: number}} Place */

const KEYS = /** @type {const} */ (["at", "label", "block", "section", "facing", "turn", "now", "next", "motion", "moment"]);
export const SLOWEST = 0.6, QUICKEST = 1.1;
export const WARN_COUNTS = 8;

/** Read a plan as the studio sends it, its rows without names. @param {any} told @returns {Plan} */
export const planOf = (told) => ({
  ...told, rows: told.rows.map((/** @type {any[]} */ row) => Object.fromEntries(KEYS.map((key, k) => [key, row[k]]))),
});

/** The number of the row that is danced at a second; -1 before the first. @param {Row[]} rows @param {number} pos */
export function rowAt(rows, pos) {
  let low = 0, high = rows.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if ((rows[middle]?.at ?? Infinity) <= pos + 1e-6) low = middle + 1; else high = middle;
  }
  return low - 1;
}

/** The second of the song at a moment of a clock [s] of the same kind as ``course.at``.
 * @param {Course} course @param {number} now */
export function posAt(course, now) {
  if (!course.running) return course.pos;
  const pos = course.pos + (now - course.at) * course.rate;
  const [from, to] = course.loop;
  if (from === undefined || to === undefined || pos < to || course.pos >= to) return pos;
  return from + ((pos - from) % (to - from));
}

/** Where a class is at a moment: counted in, on a count, or standing still. @param {Plan} plan @param {Course} course @param {number} now @returns {Place} */
export function placeAt(plan, course, now) {
  const index = rowAt(plan.rows, posAt(course, now));
  if (course.running && now < course.at && course.ahead) {
    const left = Math.min(course.ahead, Math.ceil((course.at - now) / course.step - 1e-6));
    return { kind: "ahead", index: rowAt(plan.rows, course.pos), label: String(plan.per - left + 1), left };
  }
  const kind = !course.running ? "still" : posAt(course, now) >= plan.end ? "over" : "on";
  return { kind, index, label: plan.rows[index]?.label ?? "", left: 0 };
}

/** What is coming within eight counts: a tag, a restart, the end; "" for nothing.
 * @param {Plan} plan @param {number} index @returns {{words: string, left: number}} */
export function coming(plan, index) {
  const row = plan.rows[index];
  if (!row || row.block < 0) return { words: "", left: 0 };
  const here = plan.blocks[row.block], then = plan.blocks[row.block + 1];
  if (!here) return { words: "", left: 0 };
  const left = here.first + here.counts - index;
  if (left > WARN_COUNTS || left < 1) return { words: "", left: 0 };
  if (then?.kind === "tag") return { words: `Tag next, ${then.counts} counts`, left };
  if (here.kind === "tag") return { words: then?.wall === here.wall ? "Then go on" : "Then from the top", left };
  if (here.cut && then) return { words: "Restart: from the top", left };
  if (!then) return { words: plan.ends ? `The end: ${plan.ends}` : "The last counts", left };
  return { words: "", left: 0 };
}

/** The stretch [from, to] in seconds of the section that is danced at a row, within its wall; null before the dance.
 * @param {Plan} plan @param {number} index @returns {[number, number] | null} */
export function sectionAround(plan, index) {
  const row = plan.rows[index];
  if (!row || row.block < 0) return null;
  const same = (/** @type {number} */ k) => plan.rows[k]?.block === row.block && plan.rows[k]?.section === row.section;
  let first = index, last = index;
  while (same(first - 1)) first--;
  while (same(last + 1)) last++;
  return [plan.rows[first]?.at ?? 0, plan.rows[last + 1]?.at ?? plan.end];
}

/** The second at which a wall or tag begins. @param {Plan} plan @param {number} block */
export const startOf = (plan, block) => plan.rows[plan.blocks[block]?.first ?? 0]?.at ?? 0;

/** How long a count lasts around a row at the song's own speed. @param {Plan} plan @param {number} index */
export function stepAt(plan, index) {
  const here = plan.rows[Math.max(0, index)], then = plan.rows[Math.max(0, index) + 1];
  return here && then ? then.at - here.at : 60 / plan.tempo;
}

/** A place in words, for whoever can't see it. @param {Plan} plan @param {number} index */
export function told(plan, index) {
  const row = plan.rows[index], block = row && plan.blocks[row.block];
  if (!row || !block) return "Before the first count";
  return `${block.title}${row.section ? `, section ${row.section}` : ""}, count ${row.label}: ${row.now}`;
}
