/** Every screen is for everybody: rules of accessibility, contrast, narrow screens, large type, targets for a thumb. */
import { holds, scene } from "../studio.mjs";

async function open(studio, barriers, name, address, ready) {
  const { page } = studio;
  await page.goto(`${studio.base}${address}`);
  if (ready) await page.waitForSelector(ready);
  for (const one of await studio.barriers()) barriers.push(`${name}: ${one}`);
  await studio.picture(name);
}

scene("no screen has a barrier, at 320 pixels and at twice the size too", async (studio) => {
  const { page } = studio;
  await page.goto(`${studio.base}/`);
  const dance = await page.locator(".recent a").filter({ hasText: "Kettle" }).first().getAttribute("href");
  const of = dance?.replace(/write$/, "");
  /** @type {string[]} */
  const barriers = [];
  await open(studio, barriers, "start", "/");
  await open(studio, barriers, "write", `${of}write`, "body[data-read]");
  await open(studio, barriers, "listen", `${of}listen`, "body[data-counted]");
  await open(studio, barriers, "fit", `${of}fit`, "body[data-walls]");
  for (const place of ["bodies", "teach", "lead"]) await open(studio, barriers, place, `${of}${place}`);
  await open(studio, barriers, "keep", "/keep");
  await open(studio, barriers, "keys", "/keys");
  await open(studio, barriers, "not-here", "/nothing/is/here");
  holds(!barriers.length, barriers.join("\n"));
});
