/** Writing: read beside, mended by one press, kept through a crash, in two windows. */
import { readFileSync } from "node:fs";
import { holds, scene } from "../studio.mjs";

export const SHEET = readFileSync(new URL("../sheet.txt", import.meta.url), "utf8");
const text = (page, selector) => page.textContent(selector);

scene("the first page opens and leads to a dance", async ({ page }) => {
  holds(await page.isVisible("text=Write a dance"), "nothing to begin with");
});

scene("words that are pasted are read beside, with counts, feet and findings", async (studio) => {
  await studio.write(SHEET.replace("R heel", "R heeel"));
  const { page } = studio;
  await page.waitForFunction(() => document.querySelectorAll(".steps li").length >= 15);
  holds(/heeel/.test((await text(page, "[data-line='4'] .finding")) ?? ""), "the slip is not told under its line");
});

scene("one press mends what is certain, and back takes it back", async (studio) => {
  const { page } = studio;
  await page.click("button.mend");
  await page.waitForFunction(() => !document.querySelector("#words").value.includes("heeel"));
  await page.click("#back");
  await page.waitForFunction(() => document.querySelector("#words").value.includes("heeel"));
  await page.click("#on");
  await page.waitForFunction(() => !document.querySelector("#words").value.includes("heeel"));
});

scene("the figure dances the line that the cursor is in", async ({ page }) => {
  await page.click("#words");
  await page.keyboard.press("Control+Home");
  for (let k = 0; k < 4; k++) await page.keyboard.press("ArrowDown");
  await page.waitForFunction(() => /back/.test(document.querySelector("#now").textContent) || /back/.test(document.querySelector("#figure").getAttribute("aria-label")));
  const inked = () => page.evaluate(() => document.querySelector("#figure").getContext("2d").getImageData(0, 0, 720, 840).data.reduce((sum, one, k) => (sum + one * (k % 9973)) % 1e9, 0));
  await page.click("#dance");
  const before = await inked();
  await page.waitForFunction((was) => document.querySelector("#figure").getContext("2d").getImageData(0, 0, 720, 840).data.reduce((sum, one, k) => (sum + one * (k % 9973)) % 1e9, 0) !== was, before);
  await page.click("#dance");
});

scene("the studio is killed while she types: nothing that was safe is lost, and the page goes on by itself", async (studio) => {
  const { page } = studio;
  await page.click("#words");
  await page.keyboard.press("Control+End");
  await page.keyboard.type("\nMind the chairs.");
  await studio.safe();
  await studio.kill();
  await page.keyboard.type(" And the cat.");
  await page.waitForFunction(() => /does not answer/.test(document.querySelector("#safe").textContent));
  await studio.start();
  await studio.safe();
  await page.reload();
  holds(/Mind the chairs\. And the cat\./.test(await page.inputValue("#words")), "words are lost");
});

scene("two windows write at one dance: both are kept, the difference is shown, one press settles it", async (studio) => {
  const { page } = studio;
  const other = await studio.window();
  await other.goto(page.url());
  await other.waitForSelector("body[data-read]");
  await page.fill("#words", `${SHEET}Mine.\n`);
  await studio.safe();
  await other.evaluate(() => { const field = document.querySelector("#words"); field.value = `${field.value}Theirs.\n`; field.dispatchEvent(new Event("input")); });
  await other.waitForFunction(() => /else/.test(document.querySelector("#beside").textContent) && /Mine/.test(document.querySelector("#beside").textContent));
  await other.click("text=Stay with these words");
  await other.waitForFunction(() => document.querySelector("#beside").hidden);
  await other.close();
  await page.bringToFront();
  await page.evaluate(() => document.dispatchEvent(new Event("visibilitychange")));
  await page.waitForFunction(() => /went on from here/.test(document.querySelector("#beside").textContent));
  await page.click("text=Take the other words");
  await page.waitForFunction(() => /Theirs/.test(document.querySelector("#words").value));
  await studio.safe();
});

scene("an answer that is cut off is no answer: the reading stays, the words are kept, nothing breaks", async (studio) => {
  const { page } = studio;
  await page.goto(page.url());
  await page.waitForSelector("body[data-read]");
  const steps = await page.locator(".steps li").count();
  const cut = { read: 0, stroke: 0 };
  for (const what of ["read", "stroke"]) await page.route(`**/write/${what}`, async (route) => {
    if (cut[what]++) return route.continue();
    const answer = await route.fetch();
    return route.fulfill({ status: 200, contentType: "application/json", body: (await answer.text()).slice(0, 9) });
  });
  await page.click("#words");
  await page.keyboard.press("Control+End");
  await page.keyboard.type("Cut.\n");
  await page.waitForFunction(() => /does not answer/.test(document.querySelector("#safe").textContent));
  holds(await page.locator(".steps li").count() === steps, "the reading went with half an answer");
  await page.keyboard.press("Control+Home");
  await studio.safe();
  await page.keyboard.press("ArrowDown");
  holds(cut.read > 0 && cut.stroke > 1, "nothing was cut, or not tried again");
  holds(await page.isHidden("#beside"), "a stroke that is sent again is told as another's");
  await page.unrouteAll({ behavior: "wait" });
  await page.reload();
  holds(/Cut\.\n$/.test(await page.inputValue("#words")), "words are lost");
});

scene("sheets full of marks stay words", async (studio) => {
  const { page } = studio;
  await studio.write(`<img src=x onerror="document.title='taken'">\n<script>document.title='taken'</script>\n${SHEET}`);
  await page.goto(`${studio.base}/`);
  holds(await page.isVisible("text=<img src=x"), "the title is not shown as words");
  holds(!/taken/.test(await page.title()), "a sheet became a script");
});
