/**
 * A “one” taken and moved along the thread to the count where it is heard.
 * @module
 */

const FAR_PX = 6;

/** @param {HTMLElement} boxes @param {(from: number, to: number, starts: boolean) => void} put */
export function takeOnes(boxes, put) {
  /** @type {{one: Element, x: number, far: boolean, aim: Element | null} | null} */
  let taken = null;
  let moved = false;
  boxes.addEventListener("click", (event) => { if (moved) event.stopImmediatePropagation(); }, { capture: true });
  boxes.addEventListener("pointerdown", (event) => {
    const one = event.target instanceof Element ? event.target.closest("[data-one]") : null;
    if (!one || event.button) return;
    taken = { one, x: event.clientX, far: false, aim: null };
  });
  addEventListener("pointermove", (event) => {
    if (!taken || (!taken.far && Math.abs(event.clientX - taken.x) < FAR_PX)) return;
    taken.far = true;
    taken.one.classList.add("taken");
    const aim = nearest(boxes, event.clientX, event.clientY);
    if (aim === taken.aim) return;
    taken.aim?.classList.remove("aim");
    aim?.classList.add("aim");
    taken.aim = aim;
  });
  addEventListener("pointerup", () => {
    if (!taken) return;
    const { one, far, aim } = taken;
    taken = null;
    one.classList.remove("taken");
    aim?.classList.remove("aim");
    const from = Number(one.getAttribute("data-one")), to = Number(aim?.getAttribute("data-at"));
    if (!far || !aim || from === to) return;
    moved = true;
    setTimeout(() => { moved = false; }, 0);
    put(from, to, one.hasAttribute("data-starts"));
  });
}

/** The count nearest to a place on the screen, in the row that lies under it. @param {HTMLElement} boxes @param {number} x @param {number} y */
function nearest(boxes, x, y) {
  let best = null, least = 60;
  for (const bead of boxes.querySelectorAll("[data-at]")) {
    const place = bead.getBoundingClientRect();
    const away = Math.abs(place.x + place.width / 2 - x) + 3 * Math.max(0, Math.abs(place.y + place.height / 2 - y) - 24);
    if (away < least) { least = away; best = bead; }
  }
  return best;
}
