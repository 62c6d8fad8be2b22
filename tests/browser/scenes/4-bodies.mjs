/** Bodies and Teach: versions for everybody, a step swapped, the lesson changed, previewed, and what is ordered comes. */
import { holds, scene } from "../studio.mjs";

export const LANE = `Hollow Lane
8 counts, 1 wall, improver, 110 bpm, intro 16
1-4 Vine right, stomp left beside right
5-8 Step left forward, pivot half right, step left forward, step right together
`;

/** Begin a dance with these words, kept in the repertoire, and return its identity. @param {import("../studio.mjs").Studio} studio @param {string} words */
export async function begun(studio, words) {
  await studio.page.goto(`${studio.base}/`);
  return studio.page.evaluate(async (words) => {
    const post = (address, body) => fetch(address, { method: "POST", headers: { "content-type": "application/json" }, body: JSON.stringify(body) });
    const uid = (await post("/start/new", {})).url.split("/")[4];
    await post(`/dance/${uid}/write/stroke`, { window: "scene", made_from: 1, words });
    await post(`/dance/${uid}/write/keep`, {});
    return uid;
  }, words);
}

scene("versions are made by one press and by questions, and a step is swapped by hand", async (studio) => {
  const { page } = studio;
  await page.goto(`${studio.base}/dance/${await begun(studio, LANE)}/bodies`);
  await page.waitForSelector('body[data-versions="1"]');
  await page.click("#ready >> text=Seated");
  await page.waitForSelector('body[data-versions="2"]');
  await page.click("#ask");
  await page.fill("#name", "Tuesday <b>group</b>");
  await page.check("input[value=impact]");
  await page.click("text=Make this version");
  await page.waitForSelector('body[data-versions="3"]');
  await page.locator('button[aria-label^="Count 4, Tuesday"]').click();
  await page.fill("#swap-words", "fly away");
  await page.click("text=Put it in");
  await page.waitForFunction(() => document.querySelector("#swap-wrong")?.textContent?.includes("no step"));
  await page.fill("#swap-words", "touch L beside R");
  await page.click("text=Put it in");
  await page.waitForSelector("#swap:not([open])", { state: "attached" });
  const words = await page.locator('button[aria-label^="Count 4, Tuesday"]').textContent();
  holds(words?.includes("touch"), `count 4 is ${words}`);
  await page.waitForSelector('body[data-figures="3"]');
  await studio.picture("bodies");
});

scene("the lesson is changed where it is wrong told with its line, and a part of it previewed at once", async (studio) => {
  const { page } = studio;
  await page.goto(`${studio.base}/dance/${await begun(studio, LANE)}/teach`);
  await page.waitForSelector("body[data-passages]");
  const words = await page.inputValue("#lesson");
  await page.fill("#lesson", `${words}\nno colon here`);
  await page.waitForSelector("#wrong:not([hidden])");
  holds((await page.textContent("#wrong"))?.includes(`Line ${words.split("\n").length + 1}`), "the line is not told");
  await page.fill("#lesson", words.replace(/^1: .*$/m, "1: heel out"));
  await page.waitForSelector("#wrong", { state: "hidden" });
  await page.waitForFunction(() => document.querySelector("#safe")?.textContent === "Saved");
  await page.locator('[data-passage]:has-text("seated")').first().click();
  await page.waitForFunction(() => document.body.dataset.said === document.body.dataset.playing, null, { timeout: 60_000 });
  await page.waitForFunction(() => document.querySelector("#count")?.textContent === "3");
  await page.keyboard.press("Enter");
  await page.waitForSelector('body[data-playing="-1"]');
  await studio.picture("teach");
});

scene("what is ordered is seen to come, also where the studio is killed meanwhile, and opened where it is ready", async (studio) => {
  const { page } = studio;
  await page.uncheck('#order input[value="sheet"]');
  await page.check('#order input[value="report"]');
  await page.click("#order button[type=submit]");
  await page.waitForSelector("#jobs li[data-job] progress");
  await studio.kill();
  await studio.start();
  await page.waitForSelector('body[data-jobs="done"]', { timeout: 120_000 });
  await page.waitForSelector('#made a:has-text("report.html")');
  const opening = page.context().waitForEvent("page");
  await page.click('#made a:has-text("report.html")');
  const report = await opening;
  holds((await report.textContent("body"))?.includes("Hollow Lane"), "the report is of nothing");
  await report.close();
});
