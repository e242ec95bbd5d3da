// Joints: links open beside what is there without losing the place; methods are chosen and can be undone.
import { ask, put, say } from "./exchange.js";
import { change, take } from "./change.js";

const job = document.getElementById("job-title")?.dataset.job || "";
let asking = 0;

/** Where the stage's pieces are asked for, with what is open now. @param {string} what */
const address = (what) => `/job/${encodeURIComponent(job)}/joints/${what}${location.search}`;

/** Ask for the whole stage and put it in place; scroll to what was opened.
 * @param {string} [to] id of a heading to go to */
async function show(to) {
  const mine = ++asking;
  try {
    const { status, answer } = await ask(address("part"));
    if (mine !== asking || status !== 200) return;
    take(answer);
    if (to) {
      const head = document.getElementById(to);
      head?.scrollIntoView({ block: "start" });
      head?.focus({ preventScroll: true });
    }
    if (answer.working) fill(mine);
  } catch {
    say("The server is away. Start it again, then load the page again.", 20);
  }
}

/** Ask for the table of methods again and again while it is being worked out.
 * @param {number} mine */
function fill(mine) {
  window.setTimeout(async () => {
    if (mine !== asking || !document.getElementById("joints-options")) return;
    try {
      const { status, answer } = await ask(address("options"));
      if (mine !== asking || status !== 200) return;
      const box = document.querySelector("#joints-options .wide");
      const left = box ? box.scrollLeft : 0;
      put(answer);
      const fresh = document.querySelector("#joints-options .wide");
      if (fresh) fresh.scrollLeft = left;
      if (answer.working) fill(mine);
    } catch {
      fill(mine); // the server may come back
    }
  }, 500);
}

document.addEventListener("click", async (event) => {
  const target = event.target instanceof Element ? event.target : null;
  const link = target?.closest("a[data-go]");
  if (link instanceof HTMLAnchorElement && !event.ctrlKey && !event.metaKey && !event.shiftKey) {
    event.preventDefault();
    history.pushState(null, "", link.href);
    await show(new URL(link.href).hash.slice(1));
    return;
  }
  const button = target?.closest("button[data-choose]");
  if (button instanceof HTMLButtonElement) {
    button.disabled = true;
    const done = await change(JSON.parse(button.dataset.choose || "[]"));
    if (done) say(`Chosen: ${button.dataset.says}. Undo takes it back.`);
    else button.disabled = false;
  }
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

if (document.getElementById("joints-options")?.dataset.working === "yes") fill(asking);
