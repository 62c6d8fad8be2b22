/**
 * A second device: it shows the count of the leading screen by the studio's clock, and asks for what is pressed.
 * @module
 */
import { ask, Failure, tell, the } from "/own/ask.js";
import { stayAwake } from "/own/lead_awake.js";
import { clockAhead } from "/own/lead_clock.js";
import { placeAt, planOf } from "/own/lead_plan.js";
import { Show } from "/own/lead_show.js";

/** @typedef {import("/own/lead_plan.js").Plan} Plan @typedef {import("/own/lead_plan.js").Course} Course */

const show = new Show(), CLOCK_MS = 60_000;
let plan = /** @type {Plan | null} */ (null), course = /** @type {Course | null} */ (null);
let ahead = 0, of = "";

/** @param {any} led */
async function hear(led) {
  if (of !== `${led.dance} ${led.version}`) {
    plan = planOf(await ask("/plan"));
    of = `${led.dance} ${led.version}`;
    show.take(plan);
    the("#title", HTMLElement).textContent = `Lead ${plan.title}`;
  }
  course = { ...led, at: led.at / 1000 };
  the("#go", HTMLElement).textContent = led.running ? "Stand still" : "Go";
  document.querySelector('[data-do="loop"]')?.setAttribute("aria-pressed", String(led.loop.length > 0));
  document.body.dataset.running = String(led.running);
}

function frame() {
  if (plan && course) {
    const place = placeAt(plan, course, (performance.now() + ahead) / 1000);
    if (show.show(place)) document.body.dataset.shown = place.label;
  }
  requestAnimationFrame(frame);
}

async function keepTime() {
  ahead = await clockAhead(() => ask("/clock")).catch(() => ahead);
  setTimeout(keepTime, CLOCK_MS);
}

document.addEventListener("click", async (event) => {
  const pressed = event.target instanceof Element ? event.target.closest("[data-do], [data-block]") : null;
  if (!(pressed instanceof HTMLElement)) return;
  stayAwake();
  const body = pressed.dataset.block ? { do: "wall", n: Number(pressed.dataset.block) } : { do: pressed.dataset.do };
  try {
    const { heard } = await ask("/do", { body });
    if (!heard) tell("No leading screen is open.");
  } catch (wrong) {
    if (!(wrong instanceof Failure)) throw wrong;
    tell(wrong.message);
  }
});

await keepTime();
const line = new EventSource("/told");
line.addEventListener("message", (event) => hear(JSON.parse(event.data)).catch((wrong) => tell(wrong instanceof Failure ? wrong.message : "The plan did not come; load the page again.")));
line.addEventListener("error", () => tell("The leading screen is out of reach; this device waits for it."));
frame();
