/** The job by keyboard alone. */
import { holds, scene } from "../studio.mjs";
import { SHEET } from "./1-write.mjs";

const LATE_MS = 400;

/** Press Tab until something is reached. */
async function tabTo(page, selector, most = 60) {
  for (let k = 0; k < most; k++) {
    if (await page.evaluate((wanted) => document.activeElement?.matches(wanted), selector)) return;
    await page.keyboard.press("Tab");
  }
  throw new Error(`Tab does not reach ${selector}`);
}

/** The whole way by keys, from the first page to a dance laid on a song that is kept. @param {import("../studio.mjs").Studio} studio @param {string} title */
async function byKeys(studio, title) {
  const { page } = studio;
  await page.goto(`${studio.base}/`);
  await tabTo(page, "button.largest");
  await page.keyboard.press("Enter");
  await page.waitForSelector("#words");
  await tabTo(page, "#words");
  await page.keyboard.insertText(SHEET.replace("Tin Kettle", title));
  await studio.safe();
  await page.keyboard.insertText("x");
  await studio.safe();
  await page.keyboard.press("Control+z");
  await page.waitForFunction(() => !document.querySelector("#words").value.endsWith("x"));
  await page.keyboard.press("Control+s");
  await page.waitForFunction(() => /Kept as text 1/.test(document.querySelector("#told").textContent));
  await page.keyboard.press("Escape");
  await page.keyboard.press("2");
  await page.waitForSelector("#kept");
  await tabTo(page, "#kept");
  await page.keyboard.press("ArrowDown");
  await page.waitForFunction(() => Number(document.body.dataset.counted ?? 0) >= 1);
  await tabTo(page, "button.eight");
  await page.keyboard.press("Enter");
  await tabTo(page, "#later");
  await page.keyboard.press("Enter");
  await page.waitForFunction(() => Number(document.body.dataset.counted) >= 2);
  await page.keyboard.press("3");
  await page.waitForSelector("body[data-walls]");
  await tabTo(page, ".way[aria-checked='true']");
  await tabTo(page, "button.piece");
  await page.keyboard.press("?");
  await page.waitForSelector("kbd");
  holds(/keys$/.test(page.url()), "the page of keys does not open by its key");
}

scene("with the keyboard alone a dance is begun, written, taken back, kept, and laid on a song", (studio) => byKeys(studio, "Copper Kettle"));

scene("what is typed and chosen before the scripts of a page have come is not lost", async (studio) => {
  await studio.context.route("**/own/*.js", async (route) => { await new Promise((done) => setTimeout(done, LATE_MS)); await route.continue(); });
  try { await byKeys(studio, "Silver Kettle"); } finally { await studio.context.unrouteAll({ behavior: "wait" }); }
});
