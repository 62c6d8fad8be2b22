/**
 * Write: every stroke is sent and kept within a second; the reading follows the typing; back and on go through all
 * strokes there ever were, also after a restart. Where the studio does not answer, the words wait in this browser.
 * @module
 */
import { ask, Failure, ofDance, tell, the } from "/own/ask.js";
import { drawReading, hereIn, offerMends } from "/own/write_reading.js";
import { showLine } from "/own/write_figure.js";
import { showBeside } from "/own/write_beside.js";

const SOON_MS = 250, AGAIN_MS = 1500, READ_MS = 30, MEND_MS = 500;
const field = the("#words", HTMLTextAreaElement);
const safe = the("#safe", HTMLElement);
const here = crypto.randomUUID();
const waiting = `words:${document.body.dataset.dance}`;
const windows = new BroadcastChannel(waiting);

let at = Number(the(".write", HTMLElement).dataset.at);
let kept = field.defaultValue; // what she typed before this script came is not kept yet
let line = Promise.resolve();
let timer = 0, reading = 0, asked = 0, mending = 0;
let settles = 0; // the stroke of another window that the next stroke settles
/** @type {import("/own/write_reading.js").View | null} */
let view = null;
/** @type {AbortController | null} */
let read = null;

/** @param {string} words @param {boolean} good */
function say(words, good) {
  safe.textContent = words;
  safe.classList.toggle("not", !good);
}

/** Keep what is in the field, one stroke after the other. */
function keepStroke() {
  clearTimeout(timer);
  line = line.then(keepOne, keepOne);
  return line;
}

/** What can't be kept now waits in the browser and is tried again. */
async function keepOne() {
  const words = field.value, also = settles;
  if (words === kept && !also) { say("Saved", true); return; }
  try {
    const told = await ask(ofDance("write/stroke"), { body: { window: here, made_from: at, words, also } });
    at = told.at;
    kept = words;
    if (settles === also) settles = 0;
    localStorage.removeItem(waiting);
    windows.postMessage(at);
    if (field.value === words) { say("Saved", true); follow(); }
    beside(told.beside);
  } catch (wrong) {
    if (!(wrong instanceof Failure)) throw wrong;
    localStorage.setItem(waiting, JSON.stringify({ at, words }));
    say(wrong.away ? "Not on the disk yet: the studio does not answer. It waits here and is tried again." : wrong.message, false);
    clearTimeout(timer);
    timer = setTimeout(keepStroke, AGAIN_MS);
  }
}

/** @param {import("/own/write_beside.js").Beside | null} other */
function beside(other) {
  const settle = () => { say("Writing …", true); settles = other?.at ?? 0; keepStroke(); };
  showBeside(other, { take: () => { put(other?.words ?? ""); settle(); }, mine: settle });
}

/** Put words into the field as if they were typed. @param {string} words @param {number} [caret] */
export function put(words, caret) {
  const place = caret ?? Math.min(field.selectionStart, words.length), top = field.scrollTop;
  field.value = words;
  field.setSelectionRange(place, place);
  field.scrollTop = top;
  readSoon();
}

/** Read the words; only the newest answer is shown. */
async function readNow() {
  read?.abort();
  read = new AbortController();
  const mine = ++asked, words = field.value;
  try {
    const from = performance.now();
    const told = await ask(ofDance("write/read"), { body: { words }, signal: read.signal });
    if (mine !== asked) return;
    view = told;
    drawReading(told, words);
    follow();
    document.body.dataset.read = String(mine);
    document.body.dataset.readMs = String(Math.round(performance.now() - from));
    clearTimeout(mending);
    if (told.findings.length) mending = setTimeout(mendSoon, MEND_MS);
  } catch (wrong) {
    if (wrong instanceof Failure && !wrong.away) tell(wrong.message);
  }
}

function readSoon() {
  clearTimeout(reading);
  reading = setTimeout(readNow, READ_MS);
}

/** Look which findings one press can mend. */
async function mendSoon() {
  const words = field.value;
  try {
    const offered = await ask(ofDance("write/mends"), { body: { words } });
    if (field.value === words) offerMends(offered, mended);
  } catch (wrong) {
    if (!(wrong instanceof Failure)) throw wrong;
  }
}

/** The line the cursor is in is marked beside, and danced. */
function follow() {
  const line = hereIn(field);
  if (view && field.value === kept) showLine(view, line, at);
}

/** @param {string} words */
function mended(words) {
  say("Writing …", true);
  put(words);
  keepStroke();
  tell("Mended. “Back” takes it back.");
}

/** @param {boolean} back */
async function go(back) {
  await keepStroke();
  if (field.value !== kept) return;
  try {
    const told = await ask(ofDance("write/go"), { body: { window: here, at, back } });
    at = told.at;
    kept = told.words;
    settles = 0;
    if (told.moved) put(told.words, changedAt(field.value, told.words)); else tell(back ? "This is where it began." : "Nothing more was written after this.");
    say("Saved", true);
  } catch (wrong) {
    if (wrong instanceof Failure) tell(wrong.message);
  }
}

/** Where two texts part. @param {string} one @param {string} other */
function changedAt(one, other) {
  let k = 0;
  while (k < one.length && one[k] === other[k]) k++;
  return Math.min(k, other.length);
}

async function keepText() {
  await keepStroke();
  try {
    const told = await ask(ofDance("write/keep"), { body: {} });
    tell(told.how === "known" ? `Kept already, as text ${told.number}.` : `Kept as text ${told.number} of this dance.`);
  } catch (wrong) {
    if (wrong instanceof Failure) tell(wrong.message);
  }
}

field.addEventListener("input", () => {
  say("Writing …", true);
  readSoon();
  clearTimeout(timer);
  timer = setTimeout(keepStroke, SOON_MS);
});
field.addEventListener("keydown", (event) => {
  if (!(event.ctrlKey || event.metaKey)) return;
  const key = event.key.toLowerCase();
  if (key === "z" || key === "y") { event.preventDefault(); go(key === "z" && !event.shiftKey); }
});
document.addEventListener("keydown", (event) => {
  if ((event.ctrlKey || event.metaKey) && event.key.toLowerCase() === "s") { event.preventDefault(); keepText(); }
});
document.addEventListener("selectionchange", () => { if (document.activeElement === field) follow(); });
the("#back", HTMLButtonElement).addEventListener("click", () => go(true));
the("#on", HTMLButtonElement).addEventListener("click", () => go(false));
the("#keep", HTMLButtonElement).addEventListener("click", keepText);
addEventListener("pagehide", () => { if (field.value !== kept || settles) keepAlive(); });
document.addEventListener("visibilitychange", () => { if (document.visibilityState === "visible") look(); else if (field.value !== kept || settles) keepStroke(); });
windows.addEventListener("message", look);

/** The last words on the way out: the browser sends them though the page is gone. */
function keepAlive() {
  localStorage.setItem(waiting, JSON.stringify({ at, words: field.value }));
  fetch(ofDance("write/stroke"), {
    method: "POST", keepalive: true, headers: { "content-type": "application/json" },
    body: JSON.stringify({ window: here, made_from: at, words: field.value, also: settles }),
  });
}

/** See whether another window wrote meanwhile. */
async function look() {
  if (field.value !== kept) return;
  try {
    beside((await ask(`${ofDance("write/beside")}?window=${here}&at=${at}`)).beside);
  } catch (wrong) {
    if (!(wrong instanceof Failure)) throw wrong;
  }
}

/** Words that waited in this browser while the studio was away are written now, from the stroke they were made from. */
function bringBack() {
  const held = localStorage.getItem(waiting);
  if (!held) return;
  const { at: from, words } = JSON.parse(held);
  localStorage.removeItem(waiting);
  if (words === field.value) return;
  at = from;
  put(words);
  keepStroke();
}

/** A report of old sheets leads to the line that wants a look. */
function toLine() {
  const number = Number(/^#line-(\d{1,5})$/.exec(location.hash)?.[1] ?? 0), lines = field.value.split("\n");
  if (number < 1 || number > lines.length) return;
  const start = lines.slice(0, number - 1).reduce((sum, one) => sum + one.length + 1, 0);
  field.setSelectionRange(start, start);
  field.focus();
  follow();
}

addEventListener("hashchange", toLine);
bringBack();
toLine();
if (field.value === kept) say("Saved", true); else keepStroke();
readNow();
look();
