/**
 * Keep: find while typing, look at texts and what parts them, take old sheets in, print booklets, back up.
 * @module
 */
import { ask, Failure, made, tell, the } from "/own/ask.js";
import { follow, order } from "/own/teach_jobs.js";

/** @typedef {{dance: string, title: string, about: string, line: string, errors: number, texts: number}} Hit */

/** @typedef {{labels: string[], notes: {words: string, day: string}[], songs: string[], danced: string[]}} Beside */

const field = the("#q", HTMLInputElement), box = the("#hits", HTMLElement), found = the("#found", HTMLElement);
const texts = the("#texts", HTMLDialogElement), sure = the("#sure", HTMLDialogElement), sent = the("#sent", HTMLElement);
const batch = the(".keep", HTMLElement).dataset.batch ?? "";
/** @type {Map<string, string>} the dances marked for the booklet, in order */
const marked = new Map();
let asked = 0;
/** @type {AbortController | null} */
let last = null;

async function find() {
  last?.abort();
  last = new AbortController();
  const mine = ++asked, from = performance.now();
  try {
    const told = await ask(`/keep/found?q=${encodeURIComponent(field.value)}`, { signal: last.signal });
    if (mine !== asked) return;
    draw(told.hits);
    document.body.dataset.foundMs = String(Math.round(performance.now() - from));
    const many = told.total === 1 ? "One dance" : `${told.total} dances`;
    found.textContent = [`${many}${told.total > told.hits.length ? `, the first ${told.hits.length} are shown` : ""}.`, ...told.told.map((/** @type {string} */ one) => `${one[0]?.toUpperCase()}${one.slice(1)}.`)].join(" ");
    document.body.dataset.found = String(told.total);
  } catch (wrong) {
    if (wrong instanceof DOMException) return;
    if (!(wrong instanceof Failure)) throw wrong;
    found.textContent = wrong.message;
  }
}

/** @param {Hit[]} hits */
function draw(hits) {
  box.replaceChildren(...hits.map((one) => {
    const mark = made("input", { type: "checkbox", "aria-label": `${one.title} into the booklet` });
    if (mark instanceof HTMLInputElement) {
      mark.checked = marked.has(one.dance);
      mark.addEventListener("change", () => { if (mark.checked) marked.set(one.dance, one.title); else marked.delete(one.dance); drawMarked(); });
    }
    const opens = one.texts > 1 ? `About it, ${one.texts} texts` : "About it";
    const more = made("button", { type: "button", "aria-label": `${opens}: ${one.title}` }, opens);
    more.addEventListener("click", () => open(one));
    const words = made("div", {}, made("a", { href: `/dance/${one.dance}/write` }, one.title), made("span", { class: "about" }, one.about), ...(one.line ? [made("span", { class: "where" }, `… ${one.line} …`)] : []), ...(one.errors ? [made("span", { class: "where" }, `${one.errors} to mend`)] : []));
    return made("li", {}, made("label", { class: "choice" }, mark, made("span", { class: "unseen" }, "Into the booklet")), words, more);
  }));
}

function drawMarked() {
  the("#marked", HTMLElement).replaceChildren(...[...marked].map(([, title]) => made("li", {}, title)));
}

/** @param {Hit} one */
async function open(one) {
  const inside = the("#texts-in", HTMLElement);
  the("#texts-head", HTMLElement).textContent = one.title;
  try {
    const told = await ask(`/keep/texts?dance=${one.dance}`);
    const rows = told.texts.map((/** @type {any} */ text) => made("li", {}, made("strong", {}, `Text ${text.number}`), `, ${text.day}${text.source ? `, from ${text.source}` : ""}${text.head ? "" : ", earlier"}`,
      ...(text.changed.length ? [made("ul", {}, ...text.changed.map((/** @type {string} */ line) => made("li", {}, line)))] : [])));
    inside.replaceChildren(made("ol", {}, ...rows), ...(told.texts.length > 1 ? [chooser(one.dance, told.texts)] : []));
    drawBeside(one.dance, told.beside);
    texts.dataset.dance = one.dance;
    the("#day", HTMLInputElement).value = the("#day", HTMLInputElement).max = told.today;
    the("#said", HTMLElement).textContent = "";
    texts.showModal();
  } catch (wrong) {
    if (!(wrong instanceof Failure)) throw wrong;
    tell(wrong.message);
  }
}

/** What stands beside a dance. @param {string} dance @param {Beside} beside */
function drawBeside(dance, beside) {
  const labels = beside.labels.map((label) => {
    const away = made("button", { type: "button", "aria-label": `Take the label ${label} away` }, `#${label} ×`);
    away.addEventListener("click", () => say(dance, { unlabel: label }));
    return away;
  });
  const lines = [...beside.songs.map((song) => `Goes to “${song}”`), ...beside.danced.map((one) => `Danced ${one}`), ...beside.notes.map((one) => `${one.day}: ${one.words}`)];
  const nothing = labels.length + lines.length ? [] : [made("p", { class: "hint" }, "Nothing yet.")];
  the("#beside", HTMLElement).replaceChildren(...nothing, ...(labels.length ? [made("p", { class: "row" }, ...labels)] : []), ...(lines.length ? [made("ul", {}, ...lines.map((line) => made("li", {}, line)))] : []));
}

/** Say something about a dance; what can't be kept is told, and her words stay. @param {string} dance @param {Record<string, string>} words */
async function say(dance, words) {
  const said = the("#said", HTMLElement);
  try {
    drawBeside(dance, await ask("/keep/say", { body: { dance, ...words } }));
    said.textContent = "Kept.";
    find();
    return true;
  } catch (wrong) {
    if (!(wrong instanceof Failure)) throw wrong;
    said.textContent = wrong.message;
    return false;
  }
}

/** What was taken out and can be put back. @param {{bin: {dance: string, title: string, until: string}[]}} told */
function drawBin(told) {
  the("#bin", HTMLElement).hidden = !told.bin.length;
  the("#binned", HTMLElement).replaceChildren(...told.bin.map((one) => {
    const back = made("button", { type: "button", "aria-label": `Put ${one.title} back` }, "Put back");
    back.addEventListener("click", () => { changed("/keep/back", one.dance); });
    return made("li", {}, `${one.title}, until ${one.until} at least `, back);
  }));
}

/** Take a dance out, or put it back. @param {string} address @param {string} dance */
async function changed(address, dance) {
  try {
    drawBin(await ask(address, { body: { dance } }));
    await find();
  } catch (wrong) {
    if (!(wrong instanceof Failure)) throw wrong;
    tell(wrong.message);
  }
}

/** Two texts to compare. @param {string} dance @param {{number: number}[]} every */
function chooser(dance, every) {
  const choose = (/** @type {string} */ id, /** @type {number} */ now) => {
    const select = made("select", { id }, ...every.map((one) => made("option", { value: String(one.number) }, `Text ${one.number}`)));
    if (select instanceof HTMLSelectElement) select.value = String(now);
    return select;
  };
  const one = choose("one", every.at(-2)?.number ?? 1), other = choose("other", every.at(-1)?.number ?? 1);
  const press = made("button", { type: "button" }, "Compare"), told = made("div", { class: "compared", role: "status" });
  press.addEventListener("click", async () => {
    if (!(one instanceof HTMLSelectElement && other instanceof HTMLSelectElement)) return;
    const said = await ask(`/keep/compare?dance=${dance}&one=${one.value}&other=${other.value}`);
    const list = said.changed.length ? made("ul", {}, ...said.changed.map((/** @type {string} */ line) => made("li", {}, line))) : made("p", {}, "Both dance alike.");
    told.replaceChildren(list, made("div", { class: "both", tabindex: "0", role: "region", "aria-label": "Both texts" }, ...said.words.map((/** @type {string} */ words) => made("pre", {}, words))));
  });
  return made("div", {}, made("p", { class: "row" }, made("label", { for: "one" }, "From"), one, made("label", { for: "other" }, "to"), other, press), told);
}

/** @param {FileList | null} files */
async function send(files) {
  const every = [...(files ?? [])].filter((one) => !one.name.startsWith("."));
  if (!every.length) return;
  let failed = 0;
  for (const [k, one] of every.entries()) {
    sent.textContent = `${k + 1} of ${every.length}: ${one.name}`;
    try {
      const answer = await fetch(`/keep/come?batch=${batch}&name=${encodeURIComponent(one.name)}`, { method: "PUT", body: one });
      if (!answer.ok) failed++;
    } catch { failed++; }
  }
  sent.textContent = `${every.length - failed} sent${failed ? `, ${failed} could not be` : ""}. They are read now; the report stands below when it is ready.`;
  if (failed < every.length) await order("take", { batch }, "");
}

/** @param {string} words @param {string} doing */
async function isSure(words, doing = "Put it back") {
  the("#sure-head", HTMLElement).textContent = `${doing}?`;
  the("#sure-yes", HTMLElement).textContent = doing;
  the("#sure-words", HTMLElement).textContent = words;
  sure.returnValue = "no";
  sure.showModal();
  return new Promise((done) => sure.addEventListener("close", () => done(sure.returnValue === "yes"), { once: true }));
}

/** @param {Promise<any>} doing */
async function putBack(doing) {
  const words = the("#restored", HTMLElement);
  words.textContent = "It is checked and put back …";
  try {
    words.textContent = (await doing).told;
    find();
  } catch (wrong) {
    if (!(wrong instanceof Failure)) throw wrong;
    words.textContent = wrong.message;
  }
}

async function copies() {
  const told = await ask("/keep/copies");
  for (const id of ["#copies", "#put-copy"]) the(id, HTMLElement).hidden = !told.copies.length;
  the("#no-copies", HTMLElement).hidden = told.copies.length > 0;
  the("#copy", HTMLSelectElement).replaceChildren(...told.copies.map((/** @type {{name: string, bytes: number}} */ one) => made("option", { value: one.name }, `${one.name}, ${(one.bytes / 1e6).toFixed(1)} MB`)));
}

field.addEventListener("input", find);
the("#finding", HTMLFormElement).addEventListener("submit", (event) => { event.preventDefault(); find(); });
the("#booklet", HTMLFormElement).addEventListener("submit", (event) => {
  event.preventDefault();
  const value = (/** @type {string} */ id) => { const one = document.querySelector(id); return one instanceof HTMLInputElement || one instanceof HTMLSelectElement ? one.value : ""; };
  order("booklet", { dances: [...marked.keys()], title: value("#title"), paper: value("#paper"), edition: value("#edition") }, "");
});
for (const id of ["#files", "#folder"]) the(id, HTMLInputElement).addEventListener("change", (event) => { if (event.target instanceof HTMLInputElement) send(event.target.files); });
the("#restore", HTMLFormElement).addEventListener("submit", async (event) => {
  event.preventDefault();
  const name = the("#copy", HTMLSelectElement).value;
  if (name && await isSure(`The copy “${name}” takes the place of what is kept now. What is kept now is copied first.`)) await putBack(ask("/keep/restore", { body: { name } }));
});
the("#pack", HTMLInputElement).addEventListener("change", async (event) => {
  const file = event.target instanceof HTMLInputElement ? event.target.files?.[0] : null;
  if (!file || !await isSure(`“${file.name}” takes the place of what is kept now. What is kept now is copied first.`)) return;
  await putBack(fetch("/keep/unpack", { method: "PUT", body: file, headers: { accept: "application/json" } }).then(async (answer) => { const told = await answer.json(); if (!answer.ok) throw new Failure(told); return told; }));
});
for (const [id, name] of [["#label", "label"], ["#note", "note"]]) {
  const field = the(id ?? "", HTMLInputElement);
  field.form?.addEventListener("submit", async (event) => {
    event.preventDefault();
    if (field.value.trim() && await say(texts.dataset.dance ?? "", { [name ?? ""]: field.value })) field.value = "";
  });
}
the("#day", HTMLInputElement).form?.addEventListener("submit", (event) => {
  event.preventDefault();
  say(texts.dataset.dance ?? "", { day: the("#day", HTMLInputElement).value, group: the("#group", HTMLInputElement).value });
});
the("#take-out", HTMLButtonElement).addEventListener("click", async () => {
  const dance = texts.dataset.dance ?? "", title = the("#texts-head", HTMLElement).textContent;
  texts.close();
  if (await isSure(`“${title}” is taken out with all its texts. It can be put back for three months.`, "Take it out")) await changed("/keep/remove", dance);
});
find();
copies();
ask("/keep/bin").then(drawBin);
follow("/keep", "");
