// What a tablet can do for the bench: stay awake, and open the page again while the server is away. Browsers allow both
// only on this computer itself or over an encrypted line; where they do not, the page says so.

/** @param {HTMLInputElement} wanted @param {HTMLElement} words */
export function keepAwake(wanted, words) {
  /** @type {{release: () => Promise<void>} | null} */
  let lock = null;
  const wake = /** @type {{request: (kind: string) => Promise<{release: () => Promise<void>, addEventListener: (kind: string, act: () => void) => void}>} | undefined} */ (/** @type {any} */ (navigator).wakeLock);
  if (!wake) {
    wanted.checked = false;
    wanted.disabled = true;
    words.textContent = isSecureContext
      ? "This browser cannot keep the screen awake: set the tablet's own time until it sleeps."
      : "Over the network a browser does not let a page keep the screen awake: set the tablet's own time until it sleeps.";
    return;
  }
  const hold = async () => {
    if (!wanted.checked || document.hidden || lock) return;
    try {
      const got = await wake.request("screen");
      lock = got;
      got.addEventListener("release", () => { lock = null; });
      words.textContent = "";
    } catch {
      words.textContent = "The tablet did not allow it, perhaps to save its battery.";
    }
  };
  wanted.addEventListener("change", () => {
    if (wanted.checked) hold();
    else { lock?.release(); lock = null; }
  });
  document.addEventListener("visibilitychange", hold);
  document.addEventListener("pointerdown", hold);
  hold();
}

/** @param {HTMLElement} words */
export async function openAgain(words) {
  if (!("serviceWorker" in navigator)) {
    words.textContent = "Leave this page open: over the network a browser cannot open it again while the server is away.";
    return;
  }
  try {
    await navigator.serviceWorker.register("/bench-worker.js");
    const ready = await navigator.serviceWorker.ready;
    const page = new URL(location.href);
    page.search = "";
    page.hash = "";
    const own = performance.getEntriesByType("resource").map((e) => e.name).filter((n) => n.startsWith(`${location.origin}/static/`));
    ready.active?.postMessage({ keep: [page.href, ...own] });
    words.textContent = "This page opens again even while the server is away.";
  } catch {
    words.textContent = "This browser does not open the page again while the server is away: leave it open.";
  }
}
