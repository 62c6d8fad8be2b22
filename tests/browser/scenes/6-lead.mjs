/** Leading: a class is led from the screen, by keys, from a phone, and where the studio is not running. */
import { holds, scene } from "../studio.mjs";
import { begun } from "./4-bodies.mjs";

const LANTERN = `Lantern Street
16 counts, 4 walls, improver, 110 bpm, intro 16
1-4 Vine right, touch left beside right
5-8 Vine left, quarter turn left on 7, touch right beside left
1-4 Rock right forward, recover, rock right back, recover
5-8 Step right forward, pivot half left, walk right, left
Tag: after wall 2, 4 counts: sway right, left, right, left
Restart: wall 3 after 8 counts
`;
const shown = (page, part) => page.textContent(`[data-show="${part}"]`);
const until = (page, part, words) => page.waitForFunction(([name, said]) => document.querySelector(`[data-show="${name}"]`)?.textContent?.includes(said), [part, words]);
/** @param {import("playwright-core").Page} page */
const running = (page, on) => page.waitForFunction((now) => document.body.classList.contains("running") === now, on);

scene("a class is led by keys alone: go, stand still, next wall, tempo, loop, and what is coming is told", async (studio) => {
  const { page } = studio;
  await page.goto(`${studio.base}/dance/${await begun(studio, LANTERN)}/lead`);
  await page.waitForSelector("body[data-ready]");
  holds((await shown(page, "next")) === "vine right, touch", "the first move does not stand ready");
  await page.keyboard.press("PageDown");
  await running(page, true);
  await until(page, "section", "Section 1");
  await page.keyboard.press("l");
  holds((await page.getAttribute('[data-do="loop"]', "aria-pressed")) === "true", "nothing is looped");
  await page.keyboard.press("l");
  await page.keyboard.press("ArrowRight");
  await until(page, "wall", "Wall 2");
  await page.keyboard.press("ArrowRight");
  await until(page, "wall", "Tag");
  await page.keyboard.press("ArrowRight");
  await until(page, "coming-words", "Restart");
  holds((await page.getAttribute('[data-show="room"]', "aria-label")) === "facing the back", "the arrow looks elsewhere");
  await page.keyboard.press(" ");
  await running(page, false);
  for (let k = 0; k < 12; k++) await page.keyboard.press("ArrowDown");
  holds((await page.inputValue("#tempo")) === "60", "slower than 60 percent, or not so slow");
  await page.keyboard.press("f");
  await page.waitForSelector("#figure:not([hidden])");
  await page.keyboard.press("f");
  await studio.picture("lead");
});

scene("a class is led from a phone that the code on the screen lets in, while the leading screen plays", async (studio) => {
  const { page } = studio;
  await page.waitForSelector("body[data-ready]");
  await page.fill("#tempo", "100");
  await page.keyboard.press("s");
  await page.waitForFunction(() => /\d{3} \d{3}/.test(document.querySelector("#second-code")?.textContent ?? ""));
  const port = await page.evaluate(async () => (await (await fetch(`${location.pathname}/second`)).json()).port);
  const hand = await studio.browser.newContext({ viewport: { width: 360, height: 740 }, isMobile: true, hasTouch: true });
  const phone = await hand.newPage();
  await phone.goto(`http://127.0.0.1:${port}/`);
  await phone.fill("#code", "000 000");
  await phone.tap("text=Let me in");
  await phone.waitForFunction(() => document.querySelector("#pair-words")?.textContent?.includes("another one"));
  await phone.fill("#code", (await page.textContent("#second-code")) ?? "");
  await phone.tap("text=Let me in");
  await phone.waitForSelector("body[data-running]");
  await phone.tap('[data-do="go"]');
  await running(page, true);
  await phone.tap('[data-block="3"]');
  await until(page, "wall", "Wall 3");
  await until(phone, "coming-words", "Restart");
  const both = async () => [await shown(page, "count"), await shown(phone, "count")];
  let same = 0;
  for (let k = 0; k < 40 && same < 6; k++) { const [one, other] = await both(); same += one === other ? 1 : 0; }
  holds(same >= 6, `the phone counts otherwise: ${await both()}`);
  if (studio.pictures) await phone.screenshot({ path: `${studio.pictures}/studio-lead-second.png` });
  await phone.tap('[data-do="go"]');
  await running(page, false);
  await page.click("#second-away");
  await phone.reload().catch(() => {});
  await hand.close();
});

scene("the class goes on where the studio is not running: the page was taken along", async (studio) => {
  const { page } = studio;
  await page.evaluate(() => navigator.serviceWorker.ready);
  await page.reload();
  await page.waitForSelector("body[data-ready]");
  await studio.kill();
  await page.reload();
  await page.waitForSelector("body[data-ready]");
  await page.keyboard.press("PageDown");
  await running(page, true);
  await until(page, "section", "Section 1");
  await page.keyboard.press("PageDown");
  await studio.start();
  for (let k = 0; k < 200 && !(await page.request.get(`${studio.base}/keys`).catch(() => null)); k++) await page.waitForTimeout(100);
});
