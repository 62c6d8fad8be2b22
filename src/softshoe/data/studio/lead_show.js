/**
 * What is shown of a class at a moment, on the leading screen and on a second device alike. An element is touched only
 * where it changes: nothing flashes.
 * @module
 */
import { made } from "/own/ask.js";
import { coming, told } from "/own/lead_plan.js";
import { drawRoom, fillRing, looking, makeRing } from "/own/lead_signs.js";

/** @typedef {import("/own/lead_plan.js").Plan} Plan @typedef {import("/own/lead_plan.js").Place} Place */

/** @param {string} name */
const part = (name) => {
  const found = document.querySelector(`[data-show="${name}"]`);
  if (!found) throw new Error(`${name} is missing`);
  return /** @type {HTMLElement} */ (found);
};

/** @param {Element} element @param {string} words */
const put = (element, words) => { if (element.textContent !== words) element.textContent = words; };

export class Show {
  constructor() {
    this.count = part("count");
    this.ring = /** @type {SVGElement} */ (/** @type {unknown} */ (part("ring")));
    this.room = /** @type {SVGElement} */ (/** @type {unknown} */ (part("room")));
    /** @type {Plan | null} */
    this.plan = null;
    this.last = "";
    this.block = -2;
  }

  /** @param {Plan} plan */
  take(plan) {
    this.plan = plan;
    this.last = "";
    this.block = -2;
    makeRing(this.ring, plan.per);
    part("rail").replaceChildren(...plan.blocks.map((one, k) => {
      const words = one.kind === "tag" ? "T" : String(one.wall);
      const link = made("button", { type: "button", class: `link ${one.kind}${one.cut ? " cut" : ""}`, "data-block": String(k), "aria-label": `${one.title}, facing ${looking(one.facing)}${one.cut ? `, ${one.counts} counts, then restart` : ""}` }, words);
      return made("li", {}, link);
    }));
  }

  /** Show a place. @param {Place} place @returns {boolean} whether anything changed */
  show(place) {
    const plan = this.plan;
    if (!plan) return false;
    const now = `${place.kind} ${place.index} ${place.label}`;
    if (now === this.last) return false;
    this.last = now;
    const row = plan.rows[place.index], block = row ? plan.blocks[row.block] : undefined;
    const first = plan.rows[plan.blocks[0]?.first ?? 0];
    const counted = place.kind === "ahead" || (row && row.block < 0);
    put(this.count, place.label || (place.kind === "over" ? "✓" : "–"));
    fillRing(this.ring, Number.parseInt(place.label, 10) || 0);
    put(part("now"), counted ? (place.kind === "ahead" ? "get ready" : "intro") : row?.now || (row ? "finish" : "get ready"));
    put(part("next"), counted ? (row?.now || row?.next || first?.now || "") : row?.next ?? first?.now ?? "");
    const section = plan.sections.find((one) => one.number === row?.section);
    put(part("section"), section ? `Section ${section.number}: ${section.title}` : block?.kind === "tag" ? "Tag" : row && row.block >= 0 ? "After the dance" : "Before the dance");
    const facing = row && row.block >= 0 ? row.facing : first?.facing ?? 0;
    drawRoom(this.room, facing, row?.turn ?? 0);
    this.room.setAttribute("aria-label", `facing ${looking(facing)}`);
    put(part("wall"), block ? (block.kind === "tag" ? `Tag after wall ${block.wall}` : plan.song ? `Wall ${block.wall} of ${plan.blocks.at(-1)?.wall ?? block.wall}` : `Wall ${block.wall}`) : "Intro");
    put(part("looks"), plan.seated ? "" : `facing ${looking(facing)}`);
    this.warn(place);
    this.mark(row?.block ?? -1);
    return true;
  }

  /** @param {Place} place */
  warn(place) {
    const { words, left } = place.kind === "ahead" || !this.plan ? { words: "", left: 0 } : coming(this.plan, place.index);
    const box = part("coming");
    put(part("coming-words"), words);
    put(part("coming-left"), words ? String(left) : "");
    box.classList.toggle("on", words !== "");
  }

  /** @param {number} block */
  mark(block) {
    if (block === this.block) return;
    this.block = block;
    for (const link of part("rail").querySelectorAll("button")) {
      const here = Number(link.dataset.block) === block;
      link.toggleAttribute("data-past", Number(link.dataset.block) < block);
      if (here) link.setAttribute("aria-current", "true"); else link.removeAttribute("aria-current");
      const rail = part("rail");
      if (here && rail.scrollWidth > rail.clientWidth) rail.scrollLeft = link.offsetLeft - rail.offsetLeft - rail.clientWidth / 2;
    }
  }

  /** Say where we are, aloud. @param {Place} place */
  say(place) { return this.plan ? told(this.plan, place.index) : ""; }
}
