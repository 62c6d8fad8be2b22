/** Keep: a dance is found while the words come, its texts are compared, sheets are taken in, a backup is made. */
import { writeFileSync } from "node:fs";
import { join } from "node:path";
import { holds, scene } from "../studio.mjs";
import { begun, LANE } from "./4-bodies.mjs";

scene("a dance is found while typing, labelled, taken out and put back, and old sheets are taken in with a report beside them", async (studio) => {
  const { page } = studio;
  await begun(studio, LANE.replace("Hollow", "Harrow"));
  await page.goto(`${studio.base}/keep`);
  await page.waitForSelector("body[data-found]");
  await page.fill("#q", "harrow");
  await page.waitForFunction(() => document.querySelectorAll("#hits li").length === 1);
  await page.click('button[aria-label="About it: Harrow Lane"]');
  await page.waitForSelector("#texts[open]");
  await page.fill("#label", "christmas");
  await page.keyboard.press("Enter");
  await page.waitForSelector("#beside >> text=#christmas");
  await page.fill("#group", "Tuesday group");
  await page.keyboard.press("Enter");
  await page.waitForSelector("#beside >> text=Tuesday group");
  const barriers = await studio.barriers();
  holds(!barriers.length, barriers.join("\n"));
  await studio.picture("keep-dance");
  await page.click("#take-out");
  await page.click("#sure-yes");
  await page.click('button[aria-label="Put Harrow Lane back"]');
  await page.waitForFunction(() => document.querySelectorAll("#hits li").length === 1);
  const sheets = ["Old Mill", "Ferry Steps"].map((title) => {
    const path = join(studio.folder, `${title}.txt`);
    writeFileSync(path, `${title}\n8 counts, 1 wall, seated\n1-4 R heel forward, R home, L heel forward, L home\n5-8 hold\n`);
    return path;
  });
  await page.setInputFiles("#files", sheets);
  await page.waitForSelector("#made a", { timeout: 120_000 });
  await page.fill("#q", "ferry");
  await page.waitForFunction(() => document.querySelectorAll("#hits li").length === 1);
  await page.check("#hits input");
  holds((await page.textContent("#marked"))?.includes("Ferry Steps"), "it is not marked for the booklet");
  await studio.picture("keep");
});

scene("no screen of the class, the lesson, the versions or what is kept has a barrier", async (studio) => {
  const { page } = studio;
  const of = `/dance/${await begun(studio, LANE)}/`;
  /** @type {string[]} */
  const barriers = [];
  for (const [name, address, ready] of [["bodies", `${of}bodies`, "body[data-versions]"], ["teach", `${of}teach`, "body[data-passages]"], ["lead", `${of}lead`, "body[data-ready]"], ["keep", "/keep", "body[data-found]"]]) {
    await page.goto(`${studio.base}${address}`);
    await page.waitForSelector(ready);
    if (name === "bodies") { await page.click("#ready >> text=Seated"); await page.waitForSelector('body[data-versions="2"]'); await page.click("#ask"); }
    if (name === "lead") { await page.click("#second"); await page.waitForSelector("#second-box:not([hidden])"); }
    for (const one of await studio.barriers()) barriers.push(`${name}: ${one}`);
  }
  holds(!barriers.length, barriers.join("\n"));
});
