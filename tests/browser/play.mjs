/**
 * Play all scenes in one browser, in order, and print a line of JSON for each: its name, whether it held, what failed.
 *   node play.mjs FOLDER PYTHON [PICTURES]
 * @module
 */
import { readdirSync } from "node:fs";
import { SCENES, Studio } from "./studio.mjs";

const [folder, python, pictures = ""] = process.argv.slice(2);
for (const file of readdirSync(new URL("scenes/", import.meta.url)).sort()) await import(`./scenes/${file}`);
const studio = new Studio(folder ?? "", python ?? "", pictures);
await studio.open();
for (const { name, play } of SCENES.filter((one) => one.name.includes(process.env.ONLY ?? ""))) {
  const begun = performance.now();
  let wrong = "";
  try {
    await play(studio);
    if (studio.complaints.length) throw new Error(`the page complained: ${studio.complaints.join("; ")}`);
  } catch (failed) {
    wrong = failed instanceof Error ? failed.message : String(failed);
    if (pictures) await studio.page.screenshot({ path: `${pictures}/failed.png` });
  }
  studio.complaints = [];
  console.log(JSON.stringify({ name, held: !wrong, wrong, seconds: Math.round((performance.now() - begun) / 100) / 10 }));
}
await studio.close();
