/**
 * The code of a second device, typed and sent.
 * @module
 */
import { ask, Failure, the } from "/own/ask.js";

const code = the("#code", HTMLInputElement), words = the("#pair-words", HTMLElement);

the("#pair", HTMLFormElement).addEventListener("submit", async (event) => {
  event.preventDefault();
  try {
    await ask("/pair", { body: { code: code.value.replace(/\D/g, "") } });
    location.replace("/");
  } catch (wrong) {
    if (!(wrong instanceof Failure)) throw wrong;
    words.textContent = wrong.message;
    code.select();
  }
});
code.focus();
const read = location.hash.slice(1); // the camera brings the code along
if (/^\d{6}$/.test(read)) {
  history.replaceState(null, "", "/");
  code.value = read;
  the("#pair", HTMLFormElement).requestSubmit();
}
