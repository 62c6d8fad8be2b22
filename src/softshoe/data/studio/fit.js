/**
 * Fit: choose a way to lay the dance on the song, decide about walls, hear it with the wall and the count running.
 * @module
 */
import { ask, Failure, made, ofDance, tell, the } from "/own/ask.js";
import { WallFigure } from "/own/fit_wall.js";
import { plan, oClock } from "/own/plan.js";
import { clock } from "/own/song_lines.js";

/** @typedef {[number, string, number, number, number]} Moment second, part, wall, count from 0, facing */
/** @typedef {{part: string, wall: number, counts: number, facing: number, at: number, goes_on: boolean, from: number}} Piece */
/** @typedef {{number: number, total: number, gives: string, walls: number, why: string[], charged: {part: string, points: number}[], sheet: string[]}} Way */
/** @typedef {{runs: Way[], findings: import("/own/write_reading.js").Finding[], counts: number, sections: {from: number, name: string}[], title: string, chosen: number, pins: {tags: boolean, restarts: boolean, bridges: boolean, walls: Record<string, {counts: number | null, tag: number}>}, pinned: number, unpinned: number}} Runs */
/** @typedef {{moments: Moment[], rows: {at: number, counts: number, pieces: Piece[]}[], happens: Record<string, string>, end: number, ending: string | null}} Walls */

const page = the(".fit", HTMLElement);

if (page.dataset.song) begin();

function begin() {
  const sound = the("#sound", HTMLAudioElement), play = the("#play", HTMLButtonElement), scrub = the("#scrub", HTMLInputElement);
  const tempo = the("#tempo", HTMLInputElement), take = the("#take", HTMLButtonElement), rows = the("#rows", HTMLElement);
  const cut = the("#cut", HTMLSelectElement), tag = the("#tag", HTMLSelectElement);
  /** @type {Runs | null} */
  let runs = null;
  /** @type {Walls | null} */
  let walls = null;
  /** @type {WallFigure | null} */
  let figure = null;
  let shown = 0, wall = 0, beat = -2, said = "";

  /** @param {unknown} wrong */
  function failed(wrong) {
    if (!(wrong instanceof Failure)) throw wrong;
    tell(wrong.message);
  }

  /** @param {Runs} told */
  async function show(told) {
    runs = told;
    the("#title", HTMLElement).textContent = `On “${told.title}”`;
    the("#wrong", HTMLElement).replaceChildren(...told.findings.map((one) => made("div", { class: `finding ${one.severity}` }, made("p", {}, made("strong", {}, `${one.head}: `), one.message), ...(one.mend ? [made("p", {}, `Mend: ${one.mend}`)] : []))));
    for (const name of /** @type {const} */ (["tags", "restarts", "bridges"])) the(`#${name}`, HTMLButtonElement).setAttribute("aria-pressed", String(told.pins[name]));
    the("#unpin", HTMLButtonElement).disabled = !told.pinned;
    the("#again", HTMLButtonElement).disabled = !told.unpinned;
    if (!figure) figure = new WallFigure(the("#figure", HTMLCanvasElement), Number(page.dataset.at), told.counts);
    await look(Math.max(0, told.chosen));
  }

  /** Show one of the runs. @param {number} number */
  async function look(number) {
    if (!runs) return;
    shown = number;
    the("#ways", HTMLElement).replaceChildren(...runs.runs.map((one) => {
      const button = made("button", { type: "button", class: "way", role: "radio", "aria-checked": String(one.number === number), tabindex: one.number === number ? "0" : "-1" },
        made("strong", { class: "count" }, String(one.total)), made("span", {}, `${one.walls} walls; ${one.gives}${runs?.chosen === one.number ? " (taken)" : ""}`));
      button.addEventListener("click", () => look(one.number));
      button.addEventListener("keydown", (event) => step(event, one.number));
      return button;
    }));
    const way = runs.runs[number];
    take.disabled = !way || runs.chosen === number;
    take.textContent = runs.chosen === number ? "This way is taken" : "Take this way";
    if (!way) return;
    const charged = way.charged.map((one) => `${one.part} ${one.points}`).join(", ");
    the("#why", HTMLElement).replaceChildren(...way.why.map((one) => made("li", {}, one)), ...(charged ? [made("li", {}, `100 less these: ${charged}.`)] : []));
    the("#sheet", HTMLElement).replaceChildren(...way.sheet.map((one) => made("li", {}, one)));
    try {
      walls = await ask(`${ofDance("fit/walls")}?run=${number}`);
      draw();
    } catch (wrong) {
      failed(wrong);
    }
  }

  /** Arrow keys go through the ways. @param {KeyboardEvent} event @param {number} number */
  async function step(event, number) {
    const to = number + (event.key === "ArrowDown" || event.key === "ArrowRight" ? 1 : event.key === "ArrowUp" || event.key === "ArrowLeft" ? -1 : 0);
    if (to === number || !runs?.runs[to]) return;
    event.preventDefault();
    await look(to);
    const now = document.querySelector('.way[aria-checked="true"]');
    if (now instanceof HTMLElement) now.focus();
  }

  function draw() {
    if (!walls || !runs) return;
    const cuts = new Set(Object.entries(walls.happens).filter(([, words]) => words.startsWith("restart")).map(([one]) => Number(one)));
    const most = Math.max(...walls.rows.map((row) => row.counts));
    let phrase = 0;
    rows.replaceChildren(...walls.rows.map((row) => {
      const intro = row.pieces[0]?.part === "intro";
      if (!intro) phrase++;
      const eights = Math.max(1, Math.ceil(row.counts / 8));
      const knots = made("div", { class: "knots", "aria-hidden": "true" }, ...Array.from({ length: eights }, () => made("span", {}, made("i"))));
      const pieces = made("div", { class: "pieces" }, ...row.pieces.map((piece) => drawPiece(piece, cuts.has(piece.wall))));
      const laid = made("div", { class: "laid" }, knots, pieces);
      laid.style.width = `max(6rem, ${(100 * row.counts) / most}%)`;
      return made("div", { class: "fit-row" }, made("div", { class: "phrase" }, intro ? "intro " : `${phrase} `, made("span", { class: "hint" }, clock(row.at))), laid);
    }));
    choose(wall);
    scrub.max = String(walls.end);
    beat = -2;
    tick();
    document.body.dataset.walls = String(Number(document.body.dataset.walls ?? 0) + 1);
  }

  /** @param {Piece} piece @param {boolean} torn */
  function drawPiece(piece, torn) {
    const words = { intro: "wait", wall: `wall ${piece.wall}`, tag: "tag", after: "after" }[piece.part] ?? piece.part;
    const kind = `piece ${piece.part}${piece.goes_on ? " goes-on" : ""}${torn && piece.part === "wall" ? " torn" : ""}`;
    const happens = piece.part === "wall" && walls?.happens[piece.wall] ? `, ${walls.happens[piece.wall]}` : "";
    const label = `${words}, ${piece.counts} counts${piece.goes_on ? ", goes on" : ""}${piece.part === "wall" ? `, facing ${oClock(piece.facing)}` : ""}${happens}`;
    const button = made("button", { type: "button", class: kind, "aria-label": label, "aria-pressed": "false", "data-at": String(piece.at), "data-wall": String(piece.wall), "data-part": piece.part, title: label },
      made("span", runs?.pins.walls[piece.wall] && piece.part === "wall" ? { class: "pinned" } : {}, piece.goes_on ? `${piece.counts}` : `${words} · ${piece.counts}`));
    if (piece.part === "wall" && !piece.goes_on) button.append(plan(piece.facing, true));
    button.style.flex = `${piece.counts} 1 0`;
    button.addEventListener("click", () => { sound.currentTime = piece.at; choose(piece.wall); tick(); });
    return button;
  }

  /** @param {number} number */
  function choose(number) {
    wall = number;
    for (const one of rows.querySelectorAll("button.piece")) one.setAttribute("aria-pressed", String(number > 0 && one instanceof HTMLElement && one.dataset.wall === String(number) && one.dataset.part === "wall"));
    the("#pin", HTMLElement).hidden = !number;
    the("#pin-name", HTMLElement).textContent = `Wall ${number}`;
    const pin = runs?.pins.walls[number];
    cut.replaceChildren(made("option", { value: "" }, "none"), ...Array.from({ length: Math.floor(((runs?.counts ?? 8) - 1) / 4) }, (_, k) => made("option", { value: String(4 * (k + 1)) }, `count ${4 * (k + 1)}`)));
    cut.value = pin?.counts ? String(pin.counts) : "";
    tag.value = pin?.tag ? String(pin.tag) : "";
    the("#free", HTMLButtonElement).disabled = !pin;
  }

  /** @param {Record<string, unknown>} body */
  async function pin(body) {
    try { await show(await ask(ofDance("fit/pin"), { body })); tell("Laid again around it. “Take back” undoes it."); } catch (wrong) { choose(wall); failed(wrong); }
  }
  const pinWall = () => pin({ wall, counts: cut.value ? Number(cut.value) : null, tag: Number(tag.value || 0) });

  /** Where the song is: count, wall, section, facing, figure. */
  function tick() {
    const moments = walls?.moments ?? [], at = sound.currentTime;
    let low = 0, high = moments.length;
    while (low < high) { const middle = (low + high) >> 1; if ((moments[middle]?.[0] ?? 0) <= at + 0.01) low = middle + 1; else high = middle; }
    const now = moments[low - 1], next = moments[low];
    if (low - 1 !== beat) { beat = low - 1; told(now); }
    if (now && now[1] === "wall") figure?.show(now[3] + (next ? Math.min(1, (at - now[0]) / Math.max(0.05, next[0] - now[0])) : 0));
    else if (!now || now[1] === "intro") figure?.show(0);
    the("#time", HTMLElement).textContent = clock(at);
    if (document.activeElement !== scrub || !sound.paused) scrub.value = String(at);
    scrub.setAttribute("aria-valuetext", clock(at));
    if (!sound.paused) requestAnimationFrame(tick);
  }

  /** @param {Moment | undefined} now */
  function told(now) {
    const per = 8, count = the("#count", HTMLElement), where = the("#where", HTMLElement);
    if (!now) { count.textContent = ""; where.textContent = "Press Play, or a wall."; return; }
    const [, part, number, place, facing] = now;
    const section = runs?.sections.findLast((one) => one.from <= place);
    const inside = section ? place - section.from : place;
    count.textContent = part === "intro" ? String(-place > per ? "" : per + 1 + place) : part === "after" ? "" : String(Math.floor(part === "tag" ? place : inside) + 1);
    const words = part === "intro" ? `${-place} counts to go` : part === "tag" ? `tag after wall ${number}` : part === "after" ? "over" : `wall ${number}: ${section?.name ?? ""}`;
    if (words + facing !== said) { said = words + facing; where.replaceChildren(words); }
    if (part !== "after" && !where.parentElement?.querySelector(`[data-deg="${facing}"]`)) {
      where.parentElement?.querySelector(".plan")?.remove();
      const sign = plan(facing);
      sign.setAttribute("data-deg", String(facing));
      where.after(sign);
    }
    for (const one of rows.querySelectorAll("button.piece.now")) one.classList.remove("now");
    [...rows.querySelectorAll("button.piece")].findLast((one) => one instanceof HTMLElement && Number(one.dataset.at) <= (now[0] ?? 0) + 0.01)?.classList.add("now");
  }

  play.addEventListener("click", () => { if (sound.paused) sound.play().catch(() => tell("This browser can't play the recording; save it as mp3 or wav.")); else sound.pause(); });
  sound.addEventListener("play", () => { play.textContent = "Pause"; requestAnimationFrame(tick); });
  sound.addEventListener("pause", () => { play.textContent = "Play"; });
  sound.addEventListener("seeked", tick);
  scrub.addEventListener("input", () => { sound.currentTime = Number(scrub.value); });
  function pace() {
    sound.preservesPitch = true;
    sound.playbackRate = Number(tempo.value) / 100;
    the("#percent", HTMLOutputElement).textContent = `${tempo.value} %`;
  }
  tempo.addEventListener("input", pace);
  for (const stop of document.querySelectorAll("[data-stop]")) stop.addEventListener("click", () => { tempo.value = stop.getAttribute("data-stop") ?? "100"; pace(); });
  the("#whole", HTMLButtonElement).addEventListener("click", () => pin({ wall, counts: null, tag: 0 }));
  the("#free", HTMLButtonElement).addEventListener("click", () => pin({ wall, free: true }));
  cut.addEventListener("change", pinWall);
  tag.addEventListener("change", pinWall);
  for (const name of ["tags", "restarts", "bridges"]) the(`#${name}`, HTMLButtonElement).addEventListener("click", (event) => {
    const on = event.currentTarget instanceof HTMLElement && event.currentTarget.getAttribute("aria-pressed") === "true";
    pin({ allow: { [name]: !on } });
  });
  /** @param {number} steps */
  const back = async (steps) => { try { await show(await ask(ofDance("fit/back"), { body: { back: steps } })); } catch (wrong) { failed(wrong); } };
  the("#unpin", HTMLButtonElement).addEventListener("click", () => back(1));
  the("#again", HTMLButtonElement).addEventListener("click", () => back(-1));
  take.addEventListener("click", async () => {
    try {
      const told = await ask(ofDance("fit/choose"), { body: { run: shown } });
      if (runs) { runs.chosen = told.chosen; await look(shown); }
      tell("Taken, and kept with the dance.");
      document.body.dataset.taken = String(told.chosen);
    } catch (wrong) {
      failed(wrong);
    }
  });
  document.addEventListener("keydown", (event) => {
    if (event.ctrlKey || event.metaKey || event.altKey || (event.target instanceof Element && event.target.closest("select, textarea, input[type=text]"))) return;
    if (event.key === "p" || event.key === "P") { event.preventDefault(); play.click(); }
  });

  sound.src = ofDance("listen/sound");
  ask(ofDance("fit/runs")).then(show).catch((wrong) => {
    if (!(wrong instanceof Failure)) throw wrong;
    the("#wrong", HTMLElement).replaceChildren(made("div", { class: "finding error" }, made("p", {}, made("strong", {}, wrong.told.what)), made("p", {}, `Why: ${wrong.told.why}`), made("p", {}, `Mend: ${wrong.told.mend}`)));
  });
}
