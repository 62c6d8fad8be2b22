/** Listening and fitting: a song is dropped, heard, corrected, and the dance laid on it. */
import { readFileSync } from "node:fs";
import { basename, join } from "node:path";
import { holds, scene } from "../studio.mjs";
import { SHEET } from "./1-write.mjs";

const counted = (page, times) => page.waitForFunction((n) => Number(document.body.dataset.counted ?? 0) >= n, times, { timeout: 120_000 });

/** Let a file fall on the page, as from a folder beside it. @param {import("playwright-core").Page} page @param {string} path */
export async function dropped(page, path) {
  const whole = await page.evaluateHandle(([bytes, name]) => {
    const carried = new DataTransfer();
    carried.items.add(new File([Uint8Array.from(atob(bytes), (one) => one.charCodeAt(0))], name));
    return carried;
  }, [readFileSync(path).toString("base64"), basename(path)]);
  for (const what of ["dragover", "drop"]) await page.dispatchEvent("#drop", what, { dataTransfer: whole });
}

scene("a song is dropped, its coming is shown, and it is drawn with its counts", async (studio) => {
  const { page } = studio;
  await studio.write(SHEET);
  await studio.go("listen");
  await dropped(page, join(studio.folder, "Copper Lane.wav"));
  await page.waitForSelector("#coming:not([hidden])");
  await counted(page, 1);
  holds((await text(page, "#title")) === "Copper Lane", "the title is not the file's");
  holds((await page.locator("button.eight").count()) > 4, "no counts of eight are drawn");
});

const text = (page, selector) => page.textContent(selector);

scene("her one is dragged where she hears it, and can be taken back", async (studio) => {
  const { page } = studio;
  const starts = page.locator("[data-starts]").first();
  const before = Number(await starts.getAttribute("data-one"));
  await starts.scrollIntoViewIfNeeded();
  const from = await starts.boundingBox();
  holds(from, "nothing to take");
  await page.mouse.move(from.x + 11, from.y + from.height - 11);
  await page.mouse.down();
  await page.mouse.move(from.x + 11 + 54, from.y + from.height - 11, { steps: 6 });
  await page.mouse.up();
  await counted(page, 2);
  holds(Math.abs(Number(await page.locator("[data-starts]").first().getAttribute("data-one")) - before) > 0.5, "the one did not move");
  await page.click("#unsay");
  await counted(page, 3);
  holds(Math.abs(Number(await page.locator("[data-starts]").first().getAttribute("data-one")) - before) < 0.05, "the one did not come back");
});

scene("the song plays with its counts running", async (studio) => {
  const { page } = studio;
  await page.locator("button.eight").nth(2).click();
  await page.click("#play");
  await page.waitForFunction(() => document.querySelector(".bead.now") && !document.querySelector("#sound").paused && document.querySelector("#count").textContent === "3");
  await page.click("#play");
});

scene("taps along with the song are beats, and can be taken back", async (studio) => {
  const { page } = studio;
  const times = Number(await page.getAttribute("body", "data-counted"));
  await page.click("#tap");
  await page.waitForFunction(() => !document.querySelector("#sound").paused);
  for (let k = 0; k < 9; k++) { await page.keyboard.press("t"); await page.waitForTimeout(545); }
  holds(/9 taps/.test((await text(page, "#tapping")) ?? ""), "the taps are not told");
  await counted(page, times + 1);
  await page.click("#play");
  await page.click("#unsay");
  await counted(page, times + 2);
});

scene("a way to lay the dance is chosen, played with its walls, and kept", async (studio) => {
  const { page } = studio;
  await studio.go("fit");
  await page.waitForSelector("body[data-walls]");
  await page.locator("button.piece.wall").first().click();
  holds(/wall 1/.test((await text(page, "#where")) ?? ""), "the wall is not told");
  await page.click("#play");
  await page.waitForFunction(() => document.querySelector("#count").textContent === "4");
  await page.click("#play");
  await page.selectOption("#tag", "4");
  await page.waitForFunction(() => document.querySelector("button.piece.tag"));
  await page.click("#unpin");
  await page.waitForFunction(() => Number(document.body.dataset.walls) >= 3);
  await page.click("#take");
  await page.waitForSelector("body[data-taken]");
});
