// The list of jobs: found while one types; on a first visit, the pictures of what one gets; those that were not looked at
// for want of time are looked at now, one after the other.
import { ask, put } from "./exchange.js";

const finding = /** @type {HTMLFormElement | null} */ (document.getElementById("finding"));

/** Show the jobs whose title has every word that is typed; a job is never hidden for good. */
function find() {
  const words = String(new FormData(finding || undefined).get("find") || "").toLowerCase().split(/\s+/).filter(Boolean);
  let shown = 0;
  for (const card of document.querySelectorAll(".job-card")) {
    const title = `${card.querySelector(".title")?.textContent || ""} ${card.id.slice(4)}`.toLowerCase();
    const has = words.every((word) => title.includes(word));
    /** @type {HTMLElement} */ (card).hidden = !has;
    if (has) shown += 1;
  }
  const none = document.getElementById("none-found");
  if (none) none.hidden = shown > 0;
}

if (finding) {
  // What the address asked for was left out by the server: typing other words needs all of them again.
  const whole = !new URLSearchParams(location.search).get("find");
  if (whole) finding.addEventListener("input", (event) => { if (/** @type {Element} */ (event.target).id === "find") find(); });
  finding.querySelector("select")?.addEventListener("change", () => finding.submit());
}

if (document.getElementById("about-pictures")?.dataset.waiting) {
  ask("/about/pictures").then(({ status, answer }) => { if (status === 200) put(answer); }, () => {}); // the server is away
}

for (const card of document.querySelectorAll("[data-unseen]")) {
  const name = /** @type {HTMLElement} */ (card).dataset.unseen || "";
  try {
    const { status, answer } = await ask(`/jobs/${encodeURIComponent(name)}/card`);
    if (status === 200) put(answer);
  } catch {
    break; // the server is away
  }
}
