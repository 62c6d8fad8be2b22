/**
 * Listen: a song comes in, is heard, drawn, played with its counts, and corrected; every word can be taken back.
 * @module
 */
import { ask, Failure, made, ofDance, tell, the } from "/own/ask.js";
import { drawLines, clock } from "/own/song_lines.js";
import { takeOnes } from "/own/listen_drag.js";
import { Taps } from "/own/listen_tap.js";

const LARGEST = 2_000_000_000;
const sound = the("#sound", HTMLAudioElement), scrub = the("#scrub", HTMLInputElement), play = the("#play", HTMLButtonElement);
const boxes = the("#song-lines", HTMLElement), chosen = the("#eight", HTMLElement);
/** @type {import("/own/song_lines.js").Song | null} */
let song = null;
/** @type {number[]} */
let beats = [];
/** @type {Map<number, Element>} */
let beads = new Map();
/** @type {HTMLElement | null} */
let eight = null;
let shownBeat = -1;

/** @param {unknown} wrong */
function failed(wrong) {
  if (!(wrong instanceof Failure)) throw wrong;
  tell(wrong.message);
}

/** Show why a song could not be taken, under the words it speaks of. @param {{what: string, why: string, mend: string}} told */
function refused(told) {
  the("#coming", HTMLElement).hidden = true;
  the("#wrong", HTMLElement).replaceChildren(made("div", { class: "finding error" }, made("p", {}, made("strong", {}, told.what)), made("p", {}, `Why: ${told.why}`), made("p", {}, `Mend: ${told.mend}`)));
}

/** @param {string} words @param {number} share */
function coming(words, share) {
  the("#wrong", HTMLElement).replaceChildren();
  the("#coming", HTMLElement).hidden = false;
  the("#coming-words", HTMLElement).textContent = words;
  the("#share", HTMLProgressElement).value = share;
}

/** Send a file, then follow the listening. @param {File} file */
function take(file) {
  if (file.size > LARGEST) {
    refused({ what: "This file is too large", why: "a recording may have 2 GB", mend: "choose the song alone, as mp3, m4a, flac or wav" });
    return;
  }
  coming("The song comes in", 0);
  const request = new XMLHttpRequest();
  request.open("PUT", `${ofDance("listen/come")}?name=${encodeURIComponent(file.name)}`);
  request.setRequestHeader("accept", "application/json");
  request.upload.addEventListener("progress", (event) => coming("The song comes in", 0.3 * (event.loaded / Math.max(1, event.total))));
  request.addEventListener("load", () => {
    const told = JSON.parse(request.responseText);
    if (request.status === 200) follow(told.content); else refused(told);
  });
  request.addEventListener("error", () => refused({ what: "The song did not come in", why: "the studio does not answer", mend: "drop it once more in a moment" }));
  request.send(file);
}

/** Follow the listening until it is over; it goes on by itself where the studio was away. @param {string} content */
function follow(content) {
  const events = new EventSource(`${ofDance("listen/progress")}?content=${content}`);
  events.addEventListener("message", (event) => {
    const told = JSON.parse(event.data);
    if (told.state === "hearing") coming(told.words, 0.3 + 0.7 * told.share);
    if (told.state !== "hearing") events.close();
    if (told.state === "failed") refused(told.wrong);
    if (told.state === "heard") load();
  });
}

/** Fetch the song as it is counted and show it. */
async function load() {
  try {
    show(await ask(ofDance("listen/song")));
    sound.src = ofDance("listen/sound");
    the("#choose", HTMLElement).hidden = true;
    the("#coming", HTMLElement).hidden = true;
    the("#song", HTMLElement).hidden = false;
    the("#other", HTMLElement).hidden = false;
  } catch (wrong) {
    the("#choose", HTMLElement).hidden = false;
    failed(wrong);
  }
}

/** @param {import("/own/song_lines.js").Song} told */
function show(told) {
  song = told;
  beats = told.lines.flatMap((line) => line.beats);
  the("#title", HTMLElement).textContent = told.title;
  the("#why", HTMLElement).textContent = told.why.join(" ");
  the("#song-words", HTMLElement).textContent = told.words;
  the("#metre", HTMLElement).textContent = told.metre === 4 ? "It is a waltz" : "It is in four";
  the("#unsay", HTMLButtonElement).disabled = !told.said;
  the("#say", HTMLButtonElement).disabled = !told.unsaid;
  the("#findings", HTMLElement).replaceChildren(...told.findings.map((one) => made("div", { class: `finding ${one.severity}` }, made("p", {}, made("strong", {}, `${one.head}: `), one.message), ...(one.mend ? [made("p", {}, `Mend: ${one.mend}`)] : []))));
  const pressed = eight ? Number(eight.dataset.from) : -1;
  boxes.replaceChildren(...drawLines(told));
  beads = new Map([...boxes.querySelectorAll("[data-at]")].map((bead) => [Number(bead.getAttribute("data-at")), bead]));
  choose(pressed < 0 ? null : [...boxes.querySelectorAll("button.eight")].find((one) => one instanceof HTMLElement && Math.abs(Number(one.dataset.from) - pressed) < 0.05) ?? null);
  scrub.max = String(Math.max(told.end, sound.duration || 0));
  shownBeat = -1;
  document.body.dataset.counted = String(Number(document.body.dataset.counted ?? 0) + 1);
}

/** Say a word of the listener. @param {Record<string, unknown>} word */
async function say(word) {
  try {
    show(await ask(ofDance("listen/said"), { body: word }));
    tell("Counted again. “Take back” undoes it.");
  } catch (wrong) {
    failed(wrong);
  }
}

/** @param {number} steps */
async function back(steps) {
  try {
    show(await ask(ofDance("listen/back"), { body: { back: steps } }));
  } catch (wrong) {
    failed(wrong);
  }
}

/** Choose a count of eight; its buttons appear. @param {Element | null} box */
function choose(box) {
  eight?.setAttribute("aria-pressed", "false");
  eight = box instanceof HTMLElement ? box : null;
  chosen.hidden = !eight;
  if (!eight) return;
  eight.setAttribute("aria-pressed", "true");
  the("#eight-name", HTMLElement).textContent = (eight.getAttribute("aria-label") ?? "").split(",").slice(0, 3).join(",");
}

/** The moment so many counts from the chosen one. @param {number} counts */
function fromOne(counts) {
  const at = Number(eight?.dataset.from), place = beats.findIndex((beat) => Math.abs(beat - at) < 0.02);
  return beats[place + counts] ?? at + counts * Number(eight?.dataset.length);
}

/** Show where the song is: the bead, the count, the time. */
function tick() {
  const at = sound.currentTime;
  let low = 0, high = beats.length;
  while (low < high) { const middle = (low + high) >> 1; if ((beats[middle] ?? 0) <= at + 0.01) low = middle + 1; else high = middle; }
  if (low - 1 !== shownBeat) {
    beads.get(beats[shownBeat] ?? -1)?.classList.remove("now");
    shownBeat = low - 1;
    const bead = beads.get(beats[shownBeat] ?? -1);
    bead?.classList.add("now");
    the("#count", HTMLElement).textContent = bead ? String(countOf(beats[shownBeat] ?? 0)) : "";
    const box = bead?.closest("button");
    if (box && !sound.paused) box.scrollIntoView({ block: "nearest" });
  }
  the("#time", HTMLElement).textContent = clock(at);
  if (document.activeElement !== scrub || !sound.paused) scrub.value = String(at);
  scrub.setAttribute("aria-valuetext", clock(at));
  if (!sound.paused) requestAnimationFrame(tick);
}

/** Which count of its eight a moment is. @param {number} at */
function countOf(at) {
  const ones = song?.lines.flatMap((line) => line.ones.map((k) => line.beats[k] ?? 0)) ?? [];
  const one = ones.findLast((moment) => moment <= at + 0.01);
  return one === undefined ? "" : beats.filter((beat) => beat >= one - 0.01 && beat <= at + 0.01).length;
}

const taps = new Taps(sound, (moments) => say({ taps_s: moments }));
const file = the("#file", HTMLInputElement), kept = document.querySelector("#kept");
const takeFile = () => { const one = file.files?.[0]; if (one) take(one); };
file.addEventListener("change", takeFile);
const drop = the("#drop", HTMLElement);
for (const name of ["dragover", "drop"]) document.addEventListener(name, (event) => event.preventDefault());
drop.addEventListener("dragover", () => drop.classList.add("over"));
drop.addEventListener("dragleave", () => drop.classList.remove("over"));
document.addEventListener("drop", (event) => {
  drop.classList.remove("over");
  const file = event instanceof DragEvent ? event.dataTransfer?.files[0] : undefined;
  if (file) { the("#choose", HTMLElement).hidden = false; take(file); }
});
/** @param {string} way @param {unknown} body */
async function begin(way, body) {
  coming("The song is made ready", 0.1);
  try { follow((await ask(ofDance(way), { body })).content); } catch (wrong) { if (wrong instanceof Failure) refused(wrong.told); else throw wrong; }
}
the("#demo", HTMLButtonElement).addEventListener("click", () => begin("listen/demo", {}));
const takeKept = () => { if (kept instanceof HTMLSelectElement && kept.value) begin("listen/choose", { song: kept.value }); };
kept?.addEventListener("change", takeKept);
document.querySelector("#stay")?.addEventListener("click", load);
the("#other", HTMLButtonElement).addEventListener("click", () => { sound.pause(); the("#title", HTMLElement).textContent = "Which song?"; the("#other", HTMLElement).hidden = true; the("#song", HTMLElement).hidden = true; the("#choose", HTMLElement).hidden = false; });

play.addEventListener("click", () => { if (sound.paused) sound.play().catch(() => tell("This browser can't play the recording; save it as mp3 or wav.")); else sound.pause(); });
sound.addEventListener("play", () => { play.textContent = "Pause"; requestAnimationFrame(tick); });
sound.addEventListener("pause", () => { play.textContent = "Play"; });
sound.addEventListener("seeked", tick);
sound.addEventListener("loadedmetadata", () => { scrub.max = String(Math.max(sound.duration, song?.end ?? 0)); tick(); });
scrub.addEventListener("input", () => { sound.currentTime = Number(scrub.value); });
boxes.addEventListener("click", (event) => {
  const box = event.target instanceof Element ? event.target.closest("button.eight") : null;
  if (!(box instanceof HTMLElement)) return;
  choose(box);
  sound.currentTime = Number(box.dataset.from);
});
takeOnes(boxes, (from, to, starts) => say(starts ? { first_count_s: to } : { one_s: to, from_s: from }));
the("#half", HTMLButtonElement).addEventListener("click", () => say({ times: 0.5 }));
the("#double", HTMLButtonElement).addEventListener("click", () => say({ times: 2 }));
the("#metre", HTMLButtonElement).addEventListener("click", () => say({ metre: song?.metre === 4 ? 3 : 4 }));
the("#unsay", HTMLButtonElement).addEventListener("click", () => back(1));
the("#say", HTMLButtonElement).addEventListener("click", () => back(-1));
the("#begins", HTMLButtonElement).addEventListener("click", () => say({ first_count_s: fromOne(0) }));
the("#earlier", HTMLButtonElement).addEventListener("click", () => say({ one_s: fromOne(-1), from_s: fromOne(0) }));
the("#later", HTMLButtonElement).addEventListener("click", () => say({ one_s: fromOne(1), from_s: fromOne(0) }));
the("#extra2", HTMLButtonElement).addEventListener("click", () => say({ one_s: fromOne(2), from_s: fromOne(0) }));
the("#extra4", HTMLButtonElement).addEventListener("click", () => say({ one_s: fromOne(4), from_s: fromOne(0) }));
the("#tap", HTMLButtonElement).addEventListener("click", () => taps.begin());
document.addEventListener("keydown", (event) => {
  if (event.ctrlKey || event.metaKey || event.altKey || (event.target instanceof Element && event.target.closest("input[type=text], textarea, select"))) return;
  if (event.key === "t" || event.key === "T") { event.preventDefault(); taps.tap(); }
  if (event.key === "p" || event.key === "P") { event.preventDefault(); play.click(); }
});
if (the(".listen", HTMLElement).dataset.song) load();
else { takeFile(); takeKept(); } // what she chose before this script came
