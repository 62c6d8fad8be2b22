/**
 * The sound of a class: the song at any tempo in its own pitch, or the plain rhythm, started on a count, looped, stood
 * still. Everything is scheduled by the clock of the sound itself, a little ahead.
 * @module
 */
import SignalsmithStretch from "/own/stretch.mjs";
import { countIn, groove, strokes } from "/own/lead_groove.js";
import { posAt } from "/own/lead_plan.js";

/** @typedef {import("/own/lead_plan.js").Plan} Plan @typedef {import("/own/lead_plan.js").Course} Course */

const AHEAD_S = 0.3, SOON_S = 0.12, FADE_S = 0.008, RHYTHM_HZ = 22050;

export class Deck {
  constructor() {
    this.ctx = new AudioContext({ latencyHint: "interactive" });
    this.out = this.ctx.createGain();
    this.out.connect(this.ctx.destination);
    this.rate = 1;
    /** @type {number[]} */
    this.loop = [];
    /** @type {{course: Course, from: number}[]} */
    this.courses = [];
    /** @type {Plan | null} */
    this.plan = null;
    /** @type {import("/own/stretch.mjs").Stretch | null} */
    this.song = null;
    this.songOf = "";
    this.plain = true;
    /** @type {AudioBufferSourceNode | null} */
    this.rhythm = null;
    /** @type {{rate: number, plan: Plan, buffer: AudioBuffer} | null} */
    this.struck = null;
    /** @type {{from: number, to: number, buffer: AudioBuffer} | null} a stretch of the plan that was made beforehand, voice and rhythm */
    this.made = null;
    this.sticks = strokes(this.ctx.sampleRate).sticks ?? new Float32Array(1);
    /** @type {AudioBufferSourceNode[]} */
    this.counted = [];
  }

  /** The moment of the sound's clock that is heard now [s]: later than the one that is made. */
  heard() {
    const stamp = this.ctx.getOutputTimestamp();
    if (!stamp.performanceTime || stamp.contextTime === undefined) return this.ctx.currentTime;
    return Math.min(this.ctx.currentTime, stamp.contextTime + (performance.now() - stamp.performanceTime) / 1000);
  }

  /** Where the class is: the course that holds at the moment heard. @returns {Course} */
  get course() {
    const now = this.heard();
    const held = this.courses.findLast((one) => one.from <= now) ?? this.courses[0];
    return held?.course ?? { running: false, pos: 0, at: 0, rate: this.rate, loop: this.loop, ahead: 0, step: 0.6 };
  }

  /** The course that was decided last, though it may begin in a moment. @returns {Course} */
  get decided() { return this.courses.at(-1)?.course ?? this.course; }

  /** @param {Course} course @param {number} from */
  holds(course, from) { this.courses = [...this.courses.slice(-3), { course, from }]; }

  /** Let the sound be heard; only after a press or a key. */
  async wake() { if (this.ctx.state !== "running") await this.ctx.resume(); }

  /** Take another plan and stand at its beginning. @param {Plan} plan */
  take(plan) {
    this.silence();
    this.plan = plan;
    this.courses = [];
    this.loop = [];
  }

  /** Make the song ready. @param {string} address @param {string} name */
  async load(address, name) {
    if (this.songOf === name && this.song) return;
    const answer = await fetch(address);
    if (!answer.ok) throw new Error("not there");
    const sound = await this.ctx.decodeAudioData(await answer.arrayBuffer());
    SignalsmithStretch.moduleUrl = "/own/stretch.mjs";
    const song = await SignalsmithStretch(this.ctx, { numberOfInputs: 0, numberOfOutputs: 1, outputChannelCount: [2] });
    const left = sound.getChannelData(0), right = sound.numberOfChannels > 1 ? sound.getChannelData(1) : left;
    await song.addBuffers([left, right]);
    song.connect(this.out);
    this.song?.disconnect();
    this.song = song;
    this.songOf = name;
  }

  /** Play from a second of the song, counted in if wished; returns when it begins [s of the sound's clock].
   * @param {number} pos @param {boolean} counted */
  play(pos, counted) {
    const plan = this.plan;
    if (!plan) return 0;
    this.silence();
    const { counts, step } = countIn(plan, pos, this.rate);
    const ahead = counted ? counts : 0;
    const at = this.ctx.currentTime + AHEAD_S + ahead * step;
    for (let k = 0; k < ahead; k++) this.stick(at - (ahead - k) * step);
    this.begin(pos, at);
    this.holds({ running: true, pos, at, rate: this.rate, loop: this.loop, ahead, step }, this.ctx.currentTime - 1);
    return at;
  }

  /** Let the sound begin: second ``pos`` of the song falls on ``at``. @param {number} pos @param {number} at */
  begin(pos, at) {
    this.out.gain.setValueAtTime(1, Math.max(at - 0.02, this.ctx.currentTime));
    const [from, to] = this.loop;
    if (!this.plain && this.song) {
      this.song.schedule({ output: at, active: true, input: pos, rate: this.rate, loopStart: from ?? 0, loopEnd: to ?? 0 });
      return;
    }
    const rhythm = this.ctx.createBufferSource();
    const made = this.made && this.rate === 1 && this.made.from <= pos && pos < this.made.to ? this.made : null;
    rhythm.buffer = made?.buffer ?? this.beaten();
    if (from !== undefined && to !== undefined) {
      rhythm.loop = true;
      rhythm.loopStart = from / this.rate;
      rhythm.loopEnd = to / this.rate;
    }
    rhythm.connect(this.out);
    rhythm.start(at, made ? pos - made.from : pos / this.rate);
    this.rhythm = rhythm;
  }

  /** The plain rhythm at this rate, struck once. */
  beaten() {
    const plan = /** @type {Plan} */ (this.plan);
    if (this.struck?.plan !== plan || this.struck.rate !== this.rate) {
      const samples = groove(plan, this.rate, RHYTHM_HZ);
      const buffer = this.ctx.createBuffer(1, samples.length, RHYTHM_HZ);
      buffer.copyToChannel(samples, 0);
      this.struck = { plan, rate: this.rate, buffer };
    }
    return this.struck.buffer;
  }

  /** @param {number} at */
  stick(at) {
    const stick = this.ctx.createBufferSource();
    stick.buffer = this.ctx.createBuffer(1, this.sticks.length, this.ctx.sampleRate);
    stick.buffer.copyToChannel(new Float32Array(this.sticks), 0);
    stick.connect(this.ctx.destination);
    stick.start(at);
    this.counted.push(stick);
  }

  /** Make everything still at once. */
  silence() {
    const now = this.ctx.currentTime;
    this.out.gain.cancelScheduledValues(now);
    this.out.gain.setTargetAtTime(0, now, FADE_S);
    this.song?.schedule({ output: now + 4 * FADE_S, active: false });
    this.rhythm?.stop(now + 6 * FADE_S);
    this.rhythm = null;
    for (const stick of this.counted) stick.stop();
    this.counted = [];
  }

  /** Stand still where it is heard, or at another second. @param {number} [pos] */
  stand(pos) {
    const now = this.heard(), held = this.course;
    this.silence();
    const where = pos ?? (held.running && now < held.at ? held.pos : posAt(held, now));
    this.holds({ ...held, running: false, pos: where, at: now, ahead: 0, loop: this.loop, rate: this.rate }, now - 1);
  }

  /** Go on at another rate, or with another loop. @param {{rate?: number, loop?: number[]}} how */
  change(how) {
    const held = this.decided;
    this.rate = how.rate ?? this.rate;
    this.loop = how.loop ?? this.loop;
    if (!held.running) {
      this.holds({ ...held, rate: this.rate, loop: this.loop }, this.heard() - 1);
      return;
    }
    const at = this.ctx.currentTime + SOON_S;
    if (at < held.at) { this.play(held.pos, held.ahead > 0); return; }
    const pos = posAt(held, at);
    if (this.plain || !this.song) this.rhythm?.stop(at);
    this.begin(pos, at);
    this.holds({ ...held, pos, at, rate: this.rate, loop: this.loop, ahead: 0 }, at);
  }
}
