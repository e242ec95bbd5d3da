// The workshop: each item is sent when a field of it is left; words are looked at while they are typed.
import { put, say, send } from "./exchange.js";

/** @typedef {{id: string, wrong: string, understood: string}} Note */

document.documentElement.classList.add("live");

const head = () => /** @type {HTMLElement} */ (document.getElementById("ws-head"));
let line = Promise.resolve();

/** The words of an item's form, as its fields hold them.
 * @param {HTMLFormElement} form @param {string} act @returns {Record<string, string>} */
function words(form, act) {
  /** @type {Record<string, string>} */
  const found = { act };
  for (const field of form.elements) {
    if (field instanceof HTMLInputElement && field.type === "checkbox") found[field.name] = field.checked ? "yes" : "";
    else if (field instanceof HTMLInputElement || field instanceof HTMLSelectElement) { if (field.name) found[field.name] = field.value; }
  }
  found.base = head().dataset.version || "";
  return found;
}

/** Tell at each field what was understood, or what is wrong.
 * @param {Note[]} notes @param {HTMLFormElement} form */
function tell(notes, form) {
  for (const note of notes) {
    const place = document.getElementById(`${note.id}-note`);
    if (!place) continue;
    for (const part of /** @type {const} */ (["wrong", "understood"])) {
      const spot = place.querySelector(`.${part}`);
      if (spot) spot.textContent = note[part];
    }
    const field = document.getElementById(note.id);
    if (!field) continue;
    if (note.wrong) field.setAttribute("aria-invalid", "true");
    else field.removeAttribute("aria-invalid");
  }
  form.dataset.wrong = notes.some((n) => n.wrong) ? "yes" : "";
}

/** Send an item, one after the other, so that each change is made on the one before.
 * @param {HTMLFormElement} form @param {string} act */
function pass(form, act) {
  line = line.then(() => one(form, act)).catch(() => { if (act !== "check") wait(form); });
}

/** @type {Map<HTMLFormElement, number>} */
const away = new Map();

/** The server is away: the item waits, says so beside its fields, and is sent as it then is once the server is back.
 * @param {HTMLFormElement} form */
function wait(form) {
  const id = `${form.dataset.item}-whole`;
  tell([{ id, wrong: "The server is away. This change waits here and is sent when the server is back. To drop it, put the old value back.", understood: "" }], form);
  clearTimeout(away.get(form));
  away.set(form, window.setTimeout(() => pass(form, "keep"), 3000));
}

/** @param {HTMLFormElement} form @param {string} act */
async function one(form, act) {
  const { status, answer } = await send(form.getAttribute("action") || "", words(form, act));
  const notes = /** @type {Note[] | undefined} */ (answer.notes);
  if (notes) tell(notes, form);
  if (status === 409) { say(answer.said || "", 20); return; }
  if (status !== 200) { if (!notes) say((answer.faults || []).map((f) => f.words).join(" ") || answer.said || "Nothing was changed.", 20); return; }
  if (act === "check") return;
  tell([...form.elements].flatMap((f) => (f.id ? [{ id: f.id, wrong: "", understood: understood(f.id) }] : [])), form);
  tell([{ id: `${form.dataset.item}-whole`, wrong: "", understood: "" }], form);
  put(answer);
  for (const mark of /** @type {{id: string, mine: string}[]} */ (answer.marks || [])) {
    const place = document.getElementById(`${mark.id}-mine`);
    if (place) place.textContent = mark.mine;
    place?.parentElement?.querySelector("[data-back]")?.toggleAttribute("hidden", !mark.mine);
  }
  for (const base of document.querySelectorAll("input[name=base]")) if (base instanceof HTMLInputElement) base.value = String(answer.version);
}

/** @param {string} id */
function understood(id) {
  return document.querySelector(`#${CSS.escape(id)}-note .understood`)?.textContent || "";
}

/** @param {Event} event @returns {HTMLFormElement | null} */
function formOf(event) {
  const field = event.target;
  const form = field instanceof HTMLInputElement || field instanceof HTMLSelectElement ? field.form : null;
  return form && form.dataset.item ? form : null;
}

/** @type {Map<HTMLFormElement, number>} */
const looking = new Map();
document.addEventListener("input", (event) => {
  const form = formOf(event);
  if (!form) return;
  clearTimeout(looking.get(form));
  looking.set(form, window.setTimeout(() => pass(form, "check"), 300));
});
document.addEventListener("change", (event) => {
  const form = formOf(event);
  if (!form || "new" in form.dataset) return;
  clearTimeout(looking.get(form));
  pass(form, "keep");
});
document.addEventListener("submit", (event) => {
  const form = event.target;
  if (!(form instanceof HTMLFormElement) || !form.dataset.item) return;
  const button = event.submitter;
  const act = button instanceof HTMLButtonElement && button.name === "act" ? button.value : "";
  clearTimeout(looking.get(form));
  if (act === "keep") { event.preventDefault(); pass(form, "keep"); }
});

document.addEventListener("keydown", (event) => {
  if (!(event.ctrlKey || event.metaKey) || event.key.toLowerCase() !== "z") return;
  if (event.target instanceof HTMLElement && event.target.matches("input[type=text], textarea")) return;
  const buttons = document.querySelectorAll(".shop-undoing button");
  const button = /** @type {HTMLButtonElement | undefined} */ (buttons[event.shiftKey ? 1 : 0]);
  if (!button || button.disabled) return;
  event.preventDefault();
  button.click();
});

// Another page, or an editor, may change the file: look when this page is come back to, and now and then.
let told = "";
async function look() {
  if (document.hidden) return;
  const file = head().dataset.file || "workshop";
  try {
    const response = await fetch(`/workshop/version?file=${encodeURIComponent(file)}`, { headers: { Accept: "application/json" } });
    const version = response.ok ? String((await response.json()).version) : "";
    await line;
    if (version && version !== head().dataset.version && version !== told) {
      told = version;
      say("The workshop file was changed somewhere else. Load the page again to see it.", 60);
    }
  } catch { /* the server is not there: told when something is changed */ }
}
window.setInterval(look, 5000);
window.addEventListener("focus", look);
