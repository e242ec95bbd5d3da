// The list of jobs: those that were not looked at for want of time are looked at now, one after the other.
import { ask, put } from "./exchange.js";

for (const card of document.querySelectorAll("[data-unseen]")) {
  const name = /** @type {HTMLElement} */ (card).dataset.unseen || "";
  try {
    const { status, answer } = await ask(`/jobs/${encodeURIComponent(name)}/card`);
    if (status === 200) put(answer);
  } catch {
    break; // the server is away
  }
}
