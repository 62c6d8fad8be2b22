/**
 * The screen stays awake while a class is led.
 * @module
 */

/** @type {WakeLockSentinel | null} */
let held = null;
let wanted = false;

async function hold() {
  if (!wanted || document.visibilityState !== "visible" || !("wakeLock" in navigator) || (held && !held.released)) return;
  try {
    held = await navigator.wakeLock.request("screen");
    document.body.dataset.awake = "yes";
  } catch {
    document.body.dataset.awake = "no";
  }
}

/** Keep the screen awake from now on, also after it was hidden. */
export function stayAwake() {
  if (!wanted) document.addEventListener("visibilitychange", hold);
  wanted = true;
  if ("wakeLock" in navigator) hold(); else playStill();
}

/** Where the browser grants no lock (a page of the network), a still picture that counts as a film keeps it awake. */
function playStill() {
  if (document.querySelector("video")) return;
  const still = document.createElement("canvas"), film = document.createElement("video");
  still.width = still.height = 2;
  still.getContext("2d")?.fillRect(0, 0, 2, 2);
  film.className = "unseen";
  film.muted = film.playsInline = film.loop = true;
  film.setAttribute("aria-hidden", "true");
  film.srcObject = still.captureStream(1);
  document.body.append(film);
  film.play().then(() => { document.body.dataset.awake = "film"; }, () => { document.body.dataset.awake = "no"; });
}
