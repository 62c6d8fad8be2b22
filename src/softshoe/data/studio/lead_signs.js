/**
 * The signs of a class: the ring that fills with the counts, the plan of the room, the rail of walls.
 * @module
 */

const SVG = "http://www.w3.org/2000/svg";

/** @param {string} tag @param {Record<string, string | number>} attributes @param {...Node} inside */
export function sign(tag, attributes, ...inside) {
  const element = document.createElementNS(SVG, tag);
  for (const [name, value] of Object.entries(attributes)) element.setAttribute(name, String(value));
  element.append(...inside);
  return element;
}

/** A point of a circle; 0 is up, clockwise. @param {number} r @param {number} deg */
const point = (r, deg) => `${(r * Math.sin((deg * Math.PI) / 180)).toFixed(2)} ${(-r * Math.cos((deg * Math.PI) / 180)).toFixed(2)}`;

/** Put the ring into an svg: one piece a count. @param {SVGElement} svg @param {number} per */
export function makeRing(svg, per) {
  svg.setAttribute("viewBox", "-100 -100 200 200");
  const step = 360 / per, gap = 3;
  const pieces = Array.from({ length: per }, (_, k) => {
    const from = k * step + gap, to = (k + 1) * step - gap;
    return sign("path", { class: "piece", d: `M${point(96, from)} A96 96 0 0 1 ${point(96, to)} L${point(80, to)} A80 80 0 0 0 ${point(80, from)} Z` });
  });
  svg.replaceChildren(...pieces);
}

/** Fill the ring up to a count; the count itself stands out. @param {SVGElement} svg @param {number} done */
export function fillRing(svg, done) {
  [...svg.children].forEach((piece, k) => piece.setAttribute("class", k + 1 === done ? "piece here" : k + 1 < done ? "piece done" : "piece"));
}

/** Put the plan of the room into an svg: its front is the thick wall; the arrow is where she looks, the arc the turn
 * that comes on this count, one tick an eighth. @param {SVGElement} svg @param {number} facing @param {number} turn */
export function drawRoom(svg, facing, turn) {
  svg.setAttribute("viewBox", "-50 -50 100 100");
  const parts = [
    sign("path", { class: "walls", d: "M-42 -42V42H42V-42" }), sign("path", { class: "front", d: "M-44 -42H44" }),
    sign("path", { class: "arrow", d: "M0 24V-26M-13 -12L0 -28L13 -12", transform: `rotate(${facing})` }),
  ];
  if (turn) {
    const far = Math.max(-350, Math.min(350, turn)), way = far > 0 ? 1 : 0, end = facing + far;
    const tip = end + (far > 0 ? -16 : 16);
    parts.push(sign("path", { class: "turn", d: `M${point(33, facing)} A33 33 0 ${Math.abs(far) > 180 ? 1 : 0} ${way} ${point(33, end)} M${point(26, tip)} L${point(33, end)} L${point(40, tip)}` }));
    for (let k = 1; k < Math.abs(far) / 45; k++) {
      const at = facing + Math.sign(far) * k * 45;
      parts.push(sign("path", { class: "tick", d: `M${point(30, at)} L${point(36, at)}` }));
    }
  }
  svg.replaceChildren(...parts);
}

/** Where somebody looks, on the clock of the room. @param {number} deg */
export function looking(deg) {
  const eighth = ((Math.round(deg / 45) % 8) + 8) % 8;
  return ["the front", "the front right corner", "the right wall", "the back right corner", "the back", "the back left corner", "the left wall", "the front left corner"][eighth] ?? "the front";
}

/** Draw a square of dots for a camera, with the light edge that it needs. @param {SVGElement} svg @param {string[]} rows */
export function drawSquare(svg, rows) {
  const edge = 4, size = rows.length + 2 * edge;
  svg.setAttribute("viewBox", `0 0 ${size} ${size}`);
  const dots = rows.flatMap((row, y) => [...row].map((dark, x) => (dark === "1" ? `M${x + edge} ${y + edge}h1v1h-1z` : ""))).join("");
  svg.replaceChildren(sign("path", { d: `M0 0H${size}V${size}H0Z`, fill: "#fff" }), sign("path", { d: dots, fill: "#000" }));
}
