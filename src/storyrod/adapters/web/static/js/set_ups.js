// The trial joint: what a reading asks for is told while it is typed; keeping it is a step of its own.
import { say, send } from "./exchange.js";

const form = /** @type {HTMLFormElement | null} */ (document.getElementById("trial-form"));
const place = document.getElementById("trial-answer");
const reading = /** @type {HTMLInputElement | null} */ (document.getElementById("reading"));
let asked = 0;
let timer = 0;

/** @param {boolean} keep */
async function workOut(keep) {
  if (!form || !place || !reading) return;
  const number = ++asked;
  /** @type {Record<string, unknown>} */
  const values = Object.fromEntries(new FormData(form));
  delete values.keep;
  if (keep) values.keep = "yes";
  try {
    const { status, answer } = await send(form.action, values);
    if (number !== asked) return;
    show(answer, status === 200);
    if (keep && status === 200) say("Kept in the bench log.");
  } catch {
    say("The server is away. Start it again, then repeat this.", 20);
  }
}

/** @param {import("./exchange.js").Answer} answer @param {boolean} fine */
function show(answer, fine) {
  if (!place || !reading) return;
  reading.toggleAttribute("aria-invalid", false);
  const lines = fine
    ? [["becomes", String(answer.text)], ["", String(answer.direction)]]
    : (answer.faults || []).map((f) => ["wrong", f.words]);
  if (!fine) reading.setAttribute("aria-invalid", "true");
  place.replaceChildren(...lines.map(([kind, words]) => {
    const p = document.createElement("p");
    if (kind) p.className = kind;
    p.textContent = words;
    return p;
  }));
}

if (form && reading && place) {
  form.addEventListener("submit", (event) => {
    event.preventDefault();
    const button = event.submitter;
    workOut(button instanceof HTMLButtonElement && button.name === "keep");
  });
  form.addEventListener("input", () => {
    clearTimeout(timer);
    if (!reading.value.trim()) { asked++; place.replaceChildren(); reading.removeAttribute("aria-invalid"); return; }
    timer = window.setTimeout(() => workOut(false), 250);
  });
}
document.querySelector(".run a[aria-current]")?.scrollIntoView({ block: "nearest" });
