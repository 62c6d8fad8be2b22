/** The first-run tour, on the demo dance. */
import { holds, scene } from "../studio.mjs";

scene("the tour leads from the demo dance through its places and can be left", async (studio) => {
  const { page } = studio;
  await page.goto(`${studio.base}/`);
  await page.click("text=Show me with the demo dance");
  await page.waitForSelector("#tour");
  for (let k = 0; k < 3; k++) await page.click("#tour >> text=Next");
  await page.waitForURL(/listen$/);
  await page.waitForSelector("#tour");
  holds(await page.isVisible("#demo"), "the demo song is not offered");
  await page.click("#tour >> text=Leave the tour");
  holds(!(await page.isVisible("#tour")), "the tour stays");
  await page.reload();
  holds(!(await page.isVisible("#tour")), "the tour comes back");
});
