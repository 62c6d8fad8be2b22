/**
 * A studio to try: the program itself on a folder of its own, one browser, and what every scene needs of both.
 * @module
 */
import { spawn } from "node:child_process";
import { createServer } from "node:net";
import { mkdirSync, readFileSync } from "node:fs";
import { createRequire } from "node:module";
import { join } from "node:path";
import { chromium } from "playwright-core";

const FLAGS = ["--no-sandbox", "--autoplay-policy=no-user-gesture-required", "--disable-gpu", "--disable-extensions"];
const AXE = readFileSync(createRequire(import.meta.url).resolve("axe-core/axe.min.js"), "utf8");
export const SIZES = { laptop: { width: 1366, height: 768 }, tablet: { width: 820, height: 1180 }, phone: { width: 390, height: 844 } };

/** @type {{name: string, play: (studio: Studio) => Promise<void>}[]} */
export const SCENES = [];

/** A scene: a sentence that holds, and how to see it. @param {string} name @param {(studio: Studio) => Promise<void>} play */
export function scene(name, play) { SCENES.push({ name, play }); }

/** @param {unknown} holds @param {string} words */
export function holds(holds, words) { if (!holds) throw new Error(words); }

export class Studio {
  /** @param {string} folder @param {string} python @param {string} pictures where pictures go, "" for none */
  constructor(folder, python, pictures) {
    this.folder = folder;
    this.python = python;
    this.pictures = pictures;
    /** @type {string[]} what pages complained of */
    this.complaints = [];
    this.port = 0;
  }

  /** Start the program; the first time the browser is let in by its link. */
  async start() {
    this.port ||= await freePort();
    const home = join(this.folder, "home");
    mkdirSync(home, { recursive: true });
    const run = ["-m", "softshoe", "studio", "--no-browser", "--home", home, "--port", String(this.port)];
    this.program = spawn(this.python, run, { env: { ...process.env, SOFTSHOE_HOME: home }, stdio: ["ignore", "pipe", "inherit"] });
    const link = await new Promise((done, failed) => {
      let said = "";
      this.program?.stdout?.on("data", (part) => { said += part; const found = said.match(/http\S+/); if (found) done(found[0]); });
      this.program?.on("exit", () => failed(new Error("the studio did not start")));
    });
    this.link = String(link);
    this.base = this.link.replace(/(:\d+).*/, "$1");
    return this.link;
  }

  /** Kill the program as a crash would. */
  async kill() {
    const gone = new Promise((done) => this.program?.on("exit", done));
    this.program?.kill("SIGKILL");
    await gone;
  }

  async open() {
    await this.start();
    this.browser = await chromium.launch({ executablePath: process.env.CHROMIUM || "/usr/bin/chromium", headless: true, args: FLAGS });
    this.context = await this.browser.newContext({ viewport: SIZES.laptop, reducedMotion: "no-preference" });
    this.page = await this.window();
    await this.page.goto(this.link);
  }

  /** Another window of the same person. */
  async window() {
    const page = await this.context.newPage();
    page.setDefaultTimeout(90_000);
    page.on("pageerror", (wrong) => this.complaints.push(`${page.url()}: ${wrong.message}`));
    page.on("console", (message) => { if (message.type() === "error" && !/ERR_CONNECTION|Failed to load resource/.test(message.text())) this.complaints.push(`${page.url()}: ${message.text()}`); });
    return page;
  }

  async close() {
    await this.browser?.close();
    this.program?.kill("SIGINT");
  }

  /** Begin a dance with these words and stay on its page. @param {string} words */
  async write(words) {
    await this.page.goto(`${this.base}/`);
    await this.page.click("text=Write a dance");
    await this.page.fill("#words", words);
    await this.safe();
    await this.page.waitForSelector("body[data-read]");
  }

  /** The words are on the disk. @param {import("playwright-core").Page} [page] */
  async safe(page = this.page) { await page.waitForFunction(() => document.querySelector("#safe")?.textContent === "Saved"); }

  /** Go to a place of the dance that is worked on. @param {string} place */
  async go(place) { await this.page.click(`.places >> text="${place}"`); await this.page.waitForLoadState(); }

  /** Keep a picture of the screen, where pictures are wanted. @param {string} name */
  async picture(name) {
    if (!this.pictures) return;
    mkdirSync(this.pictures, { recursive: true });
    for (const [size, viewport] of Object.entries(SIZES)) {
      await this.page.setViewportSize(viewport);
      await this.page.waitForTimeout(400);
      await this.page.screenshot({ path: join(this.pictures, `studio-${name}-${size}.png`) });
    }
    await this.page.setViewportSize(SIZES.laptop);
  }

  /** What keeps somebody out of this page: rules of accessibility up to AAA contrast, at most a narrow screen wide. */
  async barriers() {
    await this.page.evaluate(AXE);
    const found = await this.page.evaluate(async () => {
      const told = await window.axe.run({ runOnly: ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"], rules: { "color-contrast-enhanced": { enabled: true } } });
      return told.violations.map((one) => `${one.id}: ${one.nodes.slice(0, 3).map((node) => node.html).join(" | ")}`);
    });
    const small = await this.page.evaluate(() => [...document.querySelectorAll("a, button, select, input, summary")].filter((one) => {
      const box = one.getBoundingClientRect();
      const seen = box.width > 1 && box.height > 1 && one.checkVisibility();
      return seen && !one.closest(".unseen, .skip") && !(one.tagName === "A" && one.closest("p, li") && !one.closest(".places, .recent")) && (box.height < 43.9 || box.width < 43.9);
    }).map((one) => `target under 44 px: ${one.outerHTML.slice(0, 90)}`));
    for (const width of [320, 683]) {
      await this.page.setViewportSize({ width, height: 640 });
      await this.page.waitForTimeout(60);
      const over = await this.page.evaluate(() => document.documentElement.scrollWidth - document.documentElement.clientWidth);
      if (over > 1) found.push(`${over} px too wide at ${width} px`);
    }
    await this.page.setViewportSize(SIZES.laptop);
    return [...found, ...small];
  }
}

/** @returns {Promise<number>} */
const freePort = () => new Promise((done) => {
  const door = createServer();
  door.listen(0, "127.0.0.1", () => { const { port } = /** @type {import("node:net").AddressInfo} */ (door.address()); door.close(() => done(port)); });
});
