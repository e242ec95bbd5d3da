// Measuring a connector: the joint is drawn anew while its figures are typed.
import { put, send } from "./exchange.js";

const form = /** @type {HTMLFormElement} */ (document.getElementById("measure"));
let waiting = 0;
let asked = 0;

async function look() {
  /** @type {Record<string, string>} */
  const words = { step: form.dataset.step || "" };
  for (const field of form.elements) {
    if (field instanceof HTMLInputElement && field.type === "checkbox") { if (field.checked) words[field.name] = field.value; }
    else if ((field instanceof HTMLInputElement || field instanceof HTMLSelectElement) && field.name) words[field.name] = field.value;
  }
  const mine = ++asked;
  try {
    const { status, answer } = await send("/workshop/measure/look", words);
    if (status !== 200 || mine !== asked) return;
    put(answer);
    for (const note of /** @type {{id: string, wrong: string, understood: string}[]} */ (answer.notes || [])) {
      const place = document.getElementById(`${note.id}-note`);
      const field = document.getElementById(note.id);
      for (const part of /** @type {const} */ (["wrong", "understood"])) {
        const spot = place?.querySelector(`.${part}`);
        if (spot) spot.textContent = note[part];
      }
      if (note.wrong) field?.setAttribute("aria-invalid", "true");
      else field?.removeAttribute("aria-invalid");
    }
  } catch { /* the server is not there: told when it is kept */ }
}

// What was typed before this script was there.
const dirty = [...form.elements].some((f) => f instanceof HTMLInputElement && f.type === "text" && f.value !== f.defaultValue);
if (dirty) look();

document.addEventListener("input", (event) => {
  const field = event.target;
  if (!(field instanceof HTMLInputElement || field instanceof HTMLSelectElement) || field.form !== form) return;
  clearTimeout(waiting);
  waiting = window.setTimeout(look, 250);
});
