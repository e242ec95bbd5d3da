// The first page of a job: its answers are asked for once the page is there; when it will be done, by the clock here.
import { ask, put, say, send } from "./exchange.js";
import { fillGlue } from "./glue.js";

const job = document.getElementById("job-title")?.dataset.job || "";
const RETRY_MS = 3000;

/** Say when the work would end if it went on from now without a break. */
function tellEnd() {
  const place = document.getElementById("overview-end");
  const minutes = Number(place?.dataset.minutes || 0);
  if (!place || !minutes) return;
  const end = new Date(Date.now() + minutes * 60000);
  const today = end.toDateString() === new Date().toDateString();
  const clock = end.toLocaleTimeString([], { hour: "2-digit", minute: "2-digit" });
  place.textContent = today ? `Without a break you finish at ${clock}.` : "More than is left of today.";
}

async function fill() {
  if (document.getElementById("overview")?.dataset.waiting !== "yes") return;
  try {
    const { status, answer } = await ask(`/job/${encodeURIComponent(job)}/overview/part`);
    if (status === 200) put(answer);
    tellEnd();
    keepTicks();
    fillGlue();
  } catch {
    window.setTimeout(fill, RETRY_MS); // the server may come back
  }
}

/** What is ticked as "have it" is kept beside the job; what earlier versions kept in this browser alone is brought there. */
function keepTicks() {
  for (const box of document.querySelectorAll("input[data-buy]")) {
    if (!(box instanceof HTMLInputElement)) continue;
    const line = box.dataset.buy || "", old = `storyrod-have ${job} ${line}`;
    box.onchange = () => keepTick(box, line);
    if (localStorage.getItem(old) !== "yes") continue;
    box.checked = true;
    keepTick(box, line).then((kept) => { if (kept) localStorage.removeItem(old); });
  }
}

/** @param {HTMLInputElement} box @param {string} line @returns {Promise<boolean>} whether it was kept */
async function keepTick(box, line) {
  const have = box.checked;
  try {
    const { status, answer } = await send(`/job/${encodeURIComponent(job)}/have`, { line, have });
    if (status === 200) return true;
    say((answer.faults || []).map((f) => f.words).join(" ") || answer.said || "Not kept.", 20);
  } catch {
    say("Not kept: the server is away. Tick it again once it is back.", 20);
  }
  box.checked = !have;
  return false;
}

document.addEventListener("storyrod:put", (event) => {
  if (event.target instanceof Element && event.target.id === "overview") fillGlue();
  tellEnd();
  keepTicks();
});
keepTicks();
tellEnd();
fillGlue();
fill();
