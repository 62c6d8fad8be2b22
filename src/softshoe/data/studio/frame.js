/**
 * The keys that work on every page: a number goes to a place, "?" to the page of keys, Esc leaves a field.
 * @module
 */

import { tour } from "/own/tour.js";

const PLACES = ["write", "listen", "fit", "bodies", "teach", "lead", "keep"];

/** Whether a key is meant for a field. @param {EventTarget | null} at */
export const typing = (at) =>
  at instanceof HTMLElement && (at.isContentEditable || /^(INPUT|TEXTAREA|SELECT)$/.test(at.tagName));

document.addEventListener("keydown", (event) => {
  if (event.key === "Escape" && typing(event.target)) {
    if (event.target instanceof HTMLElement) event.target.blur();
    return;
  }
  if (event.defaultPrevented || event.ctrlKey || event.metaKey || event.altKey || typing(event.target)) return;
  const place = PLACES[Number(event.key) - 1];
  const link = event.key === "?" ? "/keys" : place && document.querySelector(`.places a[href$="/${place}"]`)?.getAttribute("href");
  if (link) location.assign(link);
});

tour();
