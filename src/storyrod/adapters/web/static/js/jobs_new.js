// The questions of a new job: it is drawn while they are answered, and what is wrong stands at its question.
import { put, send } from "./exchange.js";

const form = /** @type {HTMLFormElement} */ (document.getElementById("new-job"));
const many = /** @type {HTMLInputElement} */ (form.elements.namedItem("many"));
let waiting = 0;
let turn = 0;

async function draw() {
  turn += 1;
  const mine = turn;
  try {
    const { status, answer } = await send("/new/preview", Object.fromEntries(new FormData(form)));
    if (status !== 200 || mine !== turn) return;
    put(answer);
    const wrong = /** @type {Record<string, string>} */ (answer.wrong || {});
    for (const place of form.querySelectorAll(".wrong[id]")) {
      const name = place.id.slice(2, -6);
      place.textContent = wrong[name] || "";
      /** @type {HTMLElement} */ (place).hidden = !wrong[name];
      document.getElementById(`n-${name}`)?.toggleAttribute("aria-invalid", Boolean(wrong[name]));
      if (wrong[name]) document.getElementById(`n-${name}`)?.setAttribute("aria-invalid", "true");
    }
    /** @type {HTMLElement} */ (document.getElementById("many-field")).hidden = !answer.many;
    if (answer.many) /** @type {HTMLElement} */ (document.getElementById("many-what")).textContent = String(answer.many);
    if (answer.many && many.value === "") many.value = String(answer.usual);
  } catch { /* The server is away: the form still posts once it is back. */ }
}

form.addEventListener("input", (event) => {
  const field = /** @type {HTMLInputElement} */ (event.target);
  if (field.name === "units") otherUnits(field.value);
  if (field.name === "holds") many.value = "";
  clearTimeout(waiting);
  waiting = window.setTimeout(draw, field.type === "text" ? 200 : 0);
});

// What stands there as usual is chosen whole by the first tap, so that typing takes its place.
let fresh = /** @type {HTMLInputElement | null} */ (null);
form.addEventListener("focusin", (event) => {
  fresh = event.target instanceof HTMLInputElement && event.target.type === "text" ? event.target : null;
});
form.addEventListener("click", (event) => {
  if (event.target === fresh) fresh?.select();
  fresh = null;
});

// Come back to, the browser puts into the form what was answered before, and tells no change of it.
const [visit] = performance.getEntriesByType("navigation");
if (visit instanceof PerformanceNavigationTiming && visit.type !== "navigate") window.addEventListener("pageshow", draw);

/** Sizes that were left as they came are told in the other unit.
 * @param {string} unit */
function otherUnits(unit) {
  for (const field of /** @type {NodeListOf<HTMLInputElement>} */ (form.querySelectorAll("[data-mm]"))) {
    const other = unit === "in" ? field.dataset.mm : field.dataset.in;
    if (field.value === other) field.value = (unit === "in" ? field.dataset.in : field.dataset.mm) || "";
  }
}
