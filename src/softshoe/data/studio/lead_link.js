/**
 * The leading screen's side of second devices: what is led is told to them, what they ask is done here.
 * @module
 */
import { ask, Failure, ofDance, tell, the } from "/own/ask.js";
import { clockAhead } from "/own/lead_clock.js";
import { drawSquare } from "/own/lead_signs.js";

/** @typedef {{open: boolean, code: string, left: number, addresses: string[], square: string[], devices: number}} Second */

const CLOCK_MS = 60_000;

export class Link {
  /** @param {import("/own/lead_sound.js").Deck} deck @param {(what: string, n: number) => void} does */
  constructor(deck, does) {
    this.deck = deck;
    this.does = does;
    this.ahead = 0;
    this.clockAt = -Infinity;
    this.version = "";
    /** @type {EventSource | null} */
    this.line = null;
    this.over = 0;
    const button = the("#second", HTMLButtonElement);
    button.addEventListener("click", () => this.toggle(button));
    the("#second-new", HTMLButtonElement).addEventListener("click", () => this.ask("lead/second/in"));
    the("#second-away", HTMLButtonElement).addEventListener("click", () => this.ask("lead/second/away"));
    ask(ofDance("lead/second")).then((told) => { if (told.open) this.draw(told); }, () => {});
  }

  /** @param {HTMLButtonElement} button */
  toggle(button) {
    const box = the("#second-box", HTMLElement);
    box.hidden = !box.hidden;
    button.setAttribute("aria-expanded", String(!box.hidden));
    if (!box.hidden && !this.line) this.ask("lead/second/in");
    if (!box.hidden) box.scrollIntoView({ block: "nearest" });
  }

  /** @param {string} path */
  async ask(path) {
    try {
      this.draw(await ask(ofDance(path), { body: {} }));
    } catch (wrong) {
      if (!(wrong instanceof Failure)) throw wrong;
      the("#second-words", HTMLElement).textContent = wrong.message;
    }
  }

  /** @param {Second} told */
  draw(told) {
    const [address] = told.addresses;
    the("#second-address", HTMLElement).textContent = told.open ? address ?? "This machine is in no network." : "";
    the("#second-code", HTMLElement).textContent = told.code.replace(/(...)(...)/, "$1 $2");
    const square = the("#second-square", SVGElement);
    square.toggleAttribute("hidden", !told.square.length);
    drawSquare(square, told.square);
    const many = told.devices === 1 ? "One device is let in." : told.devices ? `${told.devices} devices are let in.` : "No device is let in.";
    the("#second-words", HTMLElement).textContent = !told.open ? "Nothing listens to the network." : told.code ? `The code is good for five minutes and one device. ${many}` : `${many} Another one needs a new code.`;
    clearTimeout(this.over);
    if (told.code) this.over = setTimeout(() => ask(ofDance("lead/second")).then((now) => this.draw(now), () => {}), told.left * 1000 + 500);
    if (told.open) this.listen(); else { this.line?.close(); this.line = null; }
  }

  listen() {
    if (this.line) return;
    this.line = new EventSource(ofDance("lead/asked"));
    this.line.addEventListener("open", () => { document.body.dataset.line = "open"; this.report(this.version); });
    this.line.addEventListener("message", (event) => {
      const told = JSON.parse(event.data);
      if (told.do === "paired") {
        ask(ofDance("lead/second")).then((now) => this.draw(now), () => {});
        tell("A device was let in.");
        this.report(this.version);
      } else this.does(told.do, told.n);
    });
  }

  /** Tell second devices what is led now. @param {string} version */
  async report(version) {
    this.version = version;
    if (!this.line || !version) return;
    try {
      if (performance.now() - this.clockAt > CLOCK_MS) {
        this.ahead = await clockAhead(() => ask(ofDance("lead/clock")));
        this.clockAt = performance.now();
      }
      const { running, pos, at, rate, loop, ahead, step } = this.deck.decided;
      const when = performance.now() + this.ahead + (at - this.deck.heard()) * 1000;
      await ask(ofDance("lead/led"), { body: { version, running, pos, at: when, rate, loop, ahead, step } });
    } catch (wrong) {
      if (!(wrong instanceof Failure)) throw wrong;
    }
  }
}
