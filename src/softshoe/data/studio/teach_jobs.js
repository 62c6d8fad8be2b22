/**
 * What was ordered, as it comes: how far it is, how long it may take, stopped and gone on with; and what lies there made.
 * @module
 */
import { ask, Failure, made, tell, the } from "/own/ask.js";

/** @typedef {{job: string, kind: string, state: string, share: number, left_s: number | null, words: string, fault: string | null, over: boolean, dance: string, asked_at: string}} Job */

const STATES = { waiting: "waits", doing: "is being made", done: "is ready", failed: "went wrong", stopped: "was stopped" };
const KINDS = { make: "Films, tracks and sheets", booklet: "A booklet", import: "Taking in old sheets", listen: "A song" };
/** @type {Map<string, Job>} */
const jobs = new Map();

let at = "";

/** @param {string} path @param {unknown} [body] */
async function asking(path, body) {
  try {
    return await ask(`${at}/${path}`, body === undefined ? {} : { body });
  } catch (failed) {
    if (!(failed instanceof Failure)) throw failed;
    tell(failed.message);
    return null;
  }
}

/** @param {{jobs: Job[], made: {name: string, bytes: number, href: string}[]} | null} told */
function take(told) {
  if (!told) return;
  for (const one of told.jobs) jobs.set(one.job, one);
  const list = the("#made", HTMLElement);
  list.replaceChildren(...told.made.map((one) => made("li", {}, made("a", { href: one.href, target: "_blank", rel: "noopener" }, one.name === "index.html" ? "All of it on one page" : one.name), ` ${size(one.bytes)}`)));
  if (!told.made.length) list.replaceChildren(made("li", {}, "Nothing yet."));
}

/** @param {number} bytes */
const size = (bytes) => (bytes > 1e6 ? `${(bytes / 1e6).toFixed(1)} MB` : `${Math.max(1, Math.round(bytes / 1000))} kB`);

/** @param {string} dance */
function draw(dance) {
  const list = the("#jobs", HTMLElement), mine = [...jobs.values()].filter((one) => !dance || one.dance === dance || !one.over).sort((a, b) => b.asked_at.localeCompare(a.asked_at)).slice(0, 8);
  const rows = new Map([...list.children].map((row) => [row instanceof HTMLElement ? row.dataset.job : "", row]));
  list.replaceChildren(...(mine.length ? mine.map((one) => row(one, rows.get(one.job), dance)) : [made("li", {}, "Nothing.")]));
}

/** @param {Job} one @param {Element | undefined} old @param {string} dance */
function row(one, old, dance) {
  const item = old instanceof HTMLElement ? old : made("li", { "data-job": one.job });
  const left = one.left_s === null || one.over ? "" : `, about ${one.left_s < 90 ? `${Math.max(1, Math.round(one.left_s))} seconds` : `${Math.round(one.left_s / 60)} minutes`} more`;
  const title = KINDS[/** @type {keyof typeof KINDS} */ (one.kind)] ?? one.kind, state = STATES[/** @type {keyof typeof STATES} */ (one.state)] ?? one.state;
  const words = `${title} ${one.dance === dance || one.kind !== "make" ? "" : "of another dance "}${state}${left}. ${one.state === "doing" ? one.words : ""}`;
  const key = JSON.stringify([words, one.share, one.fault]);
  if (item.dataset.key === key) return item;
  item.dataset.key = key;
  const bar = made("progress", { max: "1", value: String(one.share), "aria-label": title });
  const held = item.querySelector("button"), focused = held !== null && held === document.activeElement;
  const button = made("button", { type: "button" }, one.over ? "Make it again" : "Stop");
  button.addEventListener("click", async () => { take(await asking(one.over ? "again" : "stop", { job: one.job })); draw(dance); });
  item.replaceChildren(made("p", {}, words), ...(one.over ? [] : [bar]), ...(one.fault ? [made("p", { class: "finding error" }, one.fault)] : []), button);
  if (focused) button.focus();
  return item;
}

/** Order something and see it come. @param {string} path @param {unknown} body @param {string} dance */
export async function order(path, body, dance) {
  const told = await asking(path, body);
  if (!told) return false;
  tell("Ordered. It goes on, also when this page is closed.");
  take(await asking("jobs"));
  draw(dance);
  return true;
}

/** Follow what was ordered at a page. @param {string} page its address @param {string} dance the dance it works on, "" for none */
export async function follow(page, dance) {
  at = page;
  take(await asking("jobs"));
  draw(dance);
  const line = new EventSource(`${at}/coming`);
  line.addEventListener("message", async (event) => {
    const one = JSON.parse(event.data), was = jobs.get(one.job);
    if (!dance && one.kind === "make") return;
    jobs.set(one.job, one);
    draw(dance);
    if (one.over && !was?.over) take(await asking("jobs"));
    document.body.dataset.jobs = one.state;
  });
}
