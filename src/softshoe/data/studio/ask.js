/**
 * Asking the studio: JSON there and back, failures as sentences, and waiting for it where it does not answer.
 * @module
 */

/** A failure in the four parts that every failure has; ``away`` where the studio did not answer at all. */
export class Failure extends Error {
  /** @param {{where: string, what: string, why: string, mend: string}} told @param {boolean} away */
  constructor(told, away = false) {
    super(`${told.what}: ${told.why}. ${told.mend}`);
    this.told = told;
    this.away = away;
  }
}

const AWAY = {
  where: "the studio", what: "The studio does not answer", why: "it was stopped, or is being started again",
  mend: "This page waits for it; what you type stays here",
};

const CUT = { ...AWAY, what: "The studio's answer can't be read", why: "it was cut off on its way", mend: "Look whether it was done, or try again; what you typed stays here" };

/**
 * Ask an address; ``body`` is sent as JSON. Throws a Failure.
 * @param {string} address @param {{method?: string, body?: unknown, signal?: AbortSignal}} how @returns {Promise<any>}
 */
export async function ask(address, how = {}) {
  const method = how.method ?? (how.body === undefined ? "GET" : "POST");
  let answer;
  try {
    answer = await fetch(address, {
      method, signal: how.signal ?? null, headers: { accept: "application/json", "content-type": "application/json" },
      body: how.body === undefined ? null : JSON.stringify(how.body),
    });
  } catch (wrong) {
    if (wrong instanceof DOMException && wrong.name === "AbortError") throw wrong;
    throw new Failure(AWAY, true);
  }
  let told;
  try {
    told = await answer.json();
  } catch (wrong) { // half an answer: the studio was killed while it spoke, or nobody wants the answer any more
    if (wrong instanceof DOMException && wrong.name === "AbortError") throw wrong;
    throw new Failure(CUT, true);
  }
  if (!answer.ok) throw new Failure(told);
  return told;
}

/** The address below the dance that this page works on. @param {string} path */
export const ofDance = (path) => `/dance/${document.body.dataset.dance ?? ""}/${path}`;

/** The one element of this kind and name; it is there, or the page and its script do not fit.
 * @template {HTMLElement | SVGElement} T @param {string} selector @param {new () => T} kind @returns {T} */
export function the(selector, kind) {
  const found = document.querySelector(selector);
  if (!(found instanceof kind)) throw new Error(`${selector} is missing`);
  return found;
}

/**
 * Make an element. Words are put in as words, never as marks.
 * @param {string} tag @param {Record<string, string>} attributes @param {...(Node | string)} inside @returns {HTMLElement}
 */
export function made(tag, attributes = {}, ...inside) {
  const element = document.createElement(tag);
  for (const [name, value] of Object.entries(attributes)) element.setAttribute(name, value);
  element.append(...inside);
  return element;
}

let fading = 0;
/** Say something at the foot of the page, aloud for screen readers; it goes by itself. @param {string} words */
export function tell(words) {
  const told = the("#told", HTMLElement);
  told.textContent = words;
  clearTimeout(fading);
  fading = setTimeout(() => { told.textContent = ""; }, 6000);
}

// A failure that the page does not take is told at its foot.
addEventListener("unhandledrejection", (event) => {
  if (!(event.reason instanceof Failure) || !document.querySelector("#told")) return;
  event.preventDefault();
  tell(event.reason.message);
});
