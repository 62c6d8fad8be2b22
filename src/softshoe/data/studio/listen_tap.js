/**
 * Tapping along: every tap is a beat where the song is then; eight or more of them give the tempo.
 * @module
 */
import { the } from "/own/ask.js";

const LEAST = 8, STILL_MS = 2500;

export class Taps {
  /** @param {HTMLAudioElement} sound @param {(moments: number[]) => void} told */
  constructor(sound, told) {
    this.sound = sound;
    this.told = told;
    /** @type {number[]} */
    this.moments = [];
    this.timer = 0;
    this.words = the("#tapping", HTMLElement);
  }

  /** The button: it begins the song and then taps. */
  begin() {
    if (this.sound.paused) {
      this.moments = [];
      this.sound.play().catch(() => {});
      this.words.textContent = "Press “Tap along” or the key T on every beat; stop when you like.";
    } else this.tap();
  }

  /** One beat. */
  tap() {
    if (this.sound.paused) { this.begin(); return; }
    this.moments.push(Math.round(this.sound.currentTime * 1000) / 1000);
    this.words.textContent = this.moments.length < LEAST ? `${this.moments.length} taps; ${LEAST - this.moments.length} more at least.` : `${this.moments.length} taps. Stop when you like.`;
    clearTimeout(this.timer);
    this.timer = setTimeout(() => this.over(), STILL_MS);
  }

  /** Nobody tapped for a while: what was tapped is told. */
  over() {
    const { moments } = this;
    this.moments = [];
    if (moments.length >= LEAST) { this.words.textContent = ""; this.told(moments); }
    else this.words.textContent = "Too few taps to know the beat: tap eight or more.";
  }
}
