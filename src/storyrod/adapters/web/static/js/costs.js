// Costs: the comparison and the sizes near fill while they are worked out; what-ifs and learned times keep the place on the page.
import { take } from "./change.js";
import { ask, put, say, send } from "./exchange.js";

const job = document.getElementById("job-title")?.dataset.job || "";
let asking = 0;

/** @param {string} what */
const address = (what) => `/job/${encodeURIComponent(job)}/costs/${what}${location.search}`;

/** Ask for the whole stage and put it in place, the opened lists staying open. */
async function show() {
  const mine = ++asking;
  const open = [...document.querySelectorAll("#costs details")].map((d) => d instanceof HTMLDetailsElement && d.open);
  try {
    const { status, answer } = await ask(address("part"));
    if (mine !== asking || status !== 200) return;
    take(answer);
    document.querySelectorAll("#costs details").forEach((d, n) => { if (d instanceof HTMLDetailsElement) d.open = Boolean(open[n]); });
    fill_both(mine);
  } catch {
    say("The server is away. Start it again, then load the page again.", 20);
  }
}

/**
 * @param {number} mine
 * @param {string} what
 */
function fill(mine, what) {
  window.setTimeout(async () => {
    if (mine !== asking) return;
    try {
      const { status, answer } = await ask(address(what));
      if (mine !== asking || status !== 200) return;
      put(answer);
      if (answer.working) fill(mine, what);
    } catch {
      fill(mine, what); // the server may come back
    }
  }, 600);
}

/** @param {number} mine */
function fill_both(mine) {
  if (document.getElementById("costs-compare")?.dataset.working === "yes") fill(mine, "compared");
  if (document.getElementById("costs-edges")?.dataset.working === "yes") fill(mine, "edges");
}

document.addEventListener("submit", async (event) => {
  const form = event.target;
  if (!(form instanceof HTMLFormElement)) return;
  if (form.matches(".what-if")) {
    event.preventDefault();
    const query = new URLSearchParams();
    for (const [name, value] of new FormData(form)) if (typeof value === "string" && value.trim()) query.set(name, value.trim());
    history.pushState(null, "", query.size ? `?${query}` : location.pathname);
    await show();
  }
  const button = form.querySelector("button[data-learn]");
  if (button instanceof HTMLButtonElement) {
    event.preventDefault();
    button.disabled = true;
    try {
      const { status, answer } = await send(form.action, { act: button.dataset.learn });
      if (status === 200) say(answer.said || "Taken in.", 12);
      else say((answer.faults || []).map((f) => f.words).join(" ") || answer.said || "Nothing was changed.", 20);
    } catch {
      say("The server is away: nothing was changed.", 20);
    }
    await show();
  }
});

document.addEventListener("click", async (event) => {
  const link = event.target instanceof Element ? event.target.closest("#costs a[data-plain]") : null;
  if (!(link instanceof HTMLAnchorElement) || event.ctrlKey || event.metaKey || event.shiftKey) return;
  event.preventDefault();
  history.pushState(null, "", link.href);
  await show();
});

window.addEventListener("popstate", () => show());
document.addEventListener("storyrod:planned", () => show());
document.addEventListener("storyrod:workshop", (event) => {
  event.preventDefault();
  show();
});
document.addEventListener("storyrod:stale", () => show());
document.addEventListener("storyrod:changed", (event) => {
  event.preventDefault();
  show();
  say("This job was changed somewhere else; here it is as it is now.");
});

fill_both(asking);
