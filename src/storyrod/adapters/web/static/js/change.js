// Changing the job: every change is sent at once with the version it was made on; the answer tells how the job stands.
import { ask, put, say, send } from "./exchange.js";
import { Waiting } from "./waiting.js";

/** @typedef {{path: string, act?: "set" | "delete" | "insert", value?: unknown}} Change */
/** @typedef {{do: string, at?: string, [more: string]: unknown}} Act */
/** @typedef {import("./exchange.js").Answer} Answer */

const title = /** @type {HTMLElement} */ (document.getElementById("job-title"));
const job = `/job/${encodeURIComponent(title.dataset.job || "")}`;
const stage = location.pathname.split("/")[3] || "";
const waiting = new Waiting(title.dataset.job || "", wordsOf);
let line = Promise.resolve(/** @type {unknown} */ (null));
/** @type {() => Record<string, unknown>} */
let view = () => ({});

/** Say how the page looks at the job, so that an answer can bring the pieces it shows.
 * @param {() => Record<string, unknown>} tell */
export function viewedAs(tell) {
  view = tell;
}

/** Change fields of the job; changes made quickly one after the other are sent in turn.
 * Resolves to the answer, or null where nothing was written (the maker has been told why).
 * @param {Change[]} changes
 * @returns {Promise<Answer | null>} */
export function change(changes) {
  return inTurn("change", { changes });
}

/** Do something with the shape of the job: cut an opening, move a border, copy a case.
 * @param {Act} act
 * @returns {Promise<Answer | null>} */
export function reshape(act) {
  return inTurn("change", { act });
}

/** Undo (-1) or do again (1).
 * @param {-1 | 1} by
 * @returns {Promise<Answer | null>} */
export function step(by) {
  return inTurn("step", { by });
}

/** Resolves when no change is under way, but for those that wait for the server to come back.
 * @returns {Promise<unknown>} */
export function settled() {
  return waiting.away ? Promise.resolve(null) : line;
}

let pressed = false;
document.addEventListener("pointerdown", () => { pressed = true; }, true);
for (const end of ["pointerup", "pointercancel"]) {
  document.addEventListener(end, () => window.setTimeout(() => { pressed = false; }), true);
}

/** Resolves when no button or finger is down: what is pressed must not be exchanged under it, or the tap is lost.
 * @returns {Promise<void>} */
export async function released() {
  for (let waited = 0; pressed && waited < 3000; waited += 20) {
    await new Promise((resolve) => { window.setTimeout(resolve, 20); });
  }
}

/** Take an answer that tells how the job stands.
 * @param {Answer} answer */
export function take(answer) {
  if (title.dataset.version !== answer.version) refusals.clear();
  title.dataset.version = answer.version;
  if (typeof answer.title === "string" && title.textContent !== answer.title) title.textContent = answer.title;
  put(answer);
  tellRefusals();
}

/** @param {string} what @param {Record<string, unknown>} values @param {{id?: string, base?: string}} [sentBefore]
 * @returns {Promise<Answer | null>} */
function inTurn(what, values, sentBefore = {}) {
  const item = waiting.add(what, values, sentBefore);
  const act = () => post(item);
  const done = line.then(act, act);
  line = done;
  return done;
}

/** Send a change; where the server is away, again and again until it is there or the change is dropped.
 * @param {import("./waiting.js").Item} item
 * @returns {Promise<{status: number, answer: Answer} | null>} null where it was dropped */
async function sent(item) {
  while (!item.dropped) {
    item.base ||= title.dataset.version || "";
    try {
      const got = await send(`${job}/${item.what}`, { ...item.values, id: item.id, base: item.base, stage, view: view() });
      waiting.done(item);
      waiting.back();
      return got;
    } catch {
      await waiting.untilAgain();
    }
  }
  waiting.done(item);
  if (!waiting.items.length) waiting.back();
  return null;
}

/** @param {import("./waiting.js").Item} item @returns {Promise<Answer | null>} */
async function post(item) {
  const got = await sent(item);
  if (got === null) {
    asBefore();
    return null;
  }
  const { status, answer } = got;
  await released();
  if (status === 409) {
    overtaken(answer, [item, ...waiting.drain()]);
    return null;
  }
  if (status !== 200) {
    const words = answer.said || (answer.faults || []).map((f) => f.words).join(" ") || "Nothing was changed.";
    if (!refusedAt(answer.faults || [])) say(words, 20);
    return null;
  }
  refusals.clear();
  take(answer);
  document.dispatchEvent(new CustomEvent("storyrod:planned", { detail: answer }));
  checkSoon(2500);
  return answer;
}

/** What was refused last, by field: it stands until the job is another one, however often the page is drawn meanwhile.
 * @type {Map<string, string>} */
const refusals = new Map();

/** @returns {Element[]} the places where what was refused is told */
function tellRefusals() {
  const told = [];
  for (const place of document.querySelectorAll("[data-at-fault]")) {
    const words = refusals.get(/** @type {HTMLElement} */ (place).dataset.atFault || "") || "";
    if (place.textContent !== words) place.textContent = words;
    if (words) told.push(place);
  }
  return told;
}

/** Tell what could not be done at the place where it was wanted, as far as the page has one.
 * @param {{field: string, words: string}[]} faults @returns {boolean} whether all of it was told there */
function refusedAt(faults) {
  refusals.clear();
  for (const fault of faults) refusals.set(fault.field, fault.words);
  const places = tellRefusals();
  places.forEach((place) => place.scrollIntoView({ block: "nearest" }));
  return refusals.size > 0 && places.length === refusals.size;
}

// Another page, or an editor, was quicker ------------------------------------------------------------------------------

/** Tell what the other did, and offer to make the change again on top of it.
 * @param {Answer} answer @param {import("./waiting.js").Item[]} items the change that came too late, and those behind it */
function overtaken(answer, items) {
  asBefore();
  const box = document.createElement("section");
  box.id = "stale";
  box.className = "overtaken";
  box.setAttribute("role", "alert");
  const did = Array.isArray(answer.did) ? answer.did : [];
  const head = document.createElement("h2");
  head.textContent = answer.said || "This job was changed somewhere else in the meantime.";
  const told = document.createElement("ul");
  told.append(...did.map((words) => Object.assign(document.createElement("li"), { textContent: String(words) })));
  const mine = Object.assign(document.createElement("p"), { textContent: `Your change: ${items.map((item) => wordsOf(item.values)).join("; ")}.` });
  const again = button("Make my change on top of it", "main");
  const leave = button("Keep the other version", "");
  again.addEventListener("click", () => {
    away();
    if (answer.version) title.dataset.version = answer.version;
    for (const item of items) inTurn(item.what, item.values);
  });
  leave.addEventListener("click", away);
  box.append(head, told, mine, again, " ", leave);
  const place = document.getElementById("stale");
  if (place) place.replaceWith(box);
  else document.getElementById("main")?.prepend(box);
  again.focus();
  document.dispatchEvent(new CustomEvent("storyrod:stale", { detail: answer }));
}

/** Show fields whose change was not made as they were. */
function asBefore() {
  for (const field of document.querySelectorAll("[data-sent]")) {
    field.removeAttribute("data-sent");
    if (field instanceof HTMLSelectElement) for (const option of field.options) option.selected = option.defaultSelected;
    else if (field instanceof HTMLInputElement && ["checkbox", "radio"].includes(field.type)) field.form?.reset();
    else if (field instanceof HTMLInputElement || field instanceof HTMLTextAreaElement) field.value = field.defaultValue;
  }
}

function away() {
  const empty = Object.assign(document.createElement("div"), { id: "stale" });
  document.getElementById("stale")?.replaceWith(empty);
}

/** @param {string} words @param {string} kind */
function button(words, kind) {
  return Object.assign(document.createElement("button"), { type: "button", textContent: words, className: kind });
}

/** @param {Record<string, unknown>} values @returns {string} */
function wordsOf(values) {
  if ("by" in values) return values.by === 1 ? "do again" : "undo";
  const act = /** @type {Act | undefined} */ (values.act);
  if (act) return act.do.replace("-", " ");
  const changes = /** @type {Change[]} */ (values.changes || []);
  return changes.map((c) => {
    const field = document.querySelector(`[data-field="${CSS.escape(c.path)}"]`);
    const label = field instanceof HTMLInputElement || field instanceof HTMLSelectElement ? field.labels?.[0]?.textContent?.trim() : "";
    return `${label || c.path}: ${c.value === "" || c.value === undefined ? "left out" : c.value}`;
  }).join("; ");
}

// What takes longer to check ---------------------------------------------------------------------------------------------

let checking = 0;

/** Ask for the faults of later stages once the page has been quiet for a while.
 * @param {number} after milliseconds */
function checkSoon(after) {
  clearTimeout(checking);
  checking = window.setTimeout(async () => {
    const version = title.dataset.version;
    try {
      const { status, answer } = await ask(`${job}/checked?stage=${encodeURIComponent(stage)}`);
      if (status === 200 && answer.version === title.dataset.version && version === answer.version) {
        put(answer);
        if (document.querySelector("[data-waits]")) document.dispatchEvent(new CustomEvent("storyrod:stale"));
      }
    } catch { /* The server is away; the page says so where something is changed. */ }
  }, after);
}
checkSoon(600);
for (const item of waiting.left()) inTurn(item.what, item.values, item);

document.addEventListener("click", (event) => {
  const button = event.target instanceof Element ? event.target.closest("[data-step]") : null;
  if (button) step(button.getAttribute("data-step") === "1" ? 1 : -1);
  const way = event.target instanceof Element ? event.target.closest("[data-change]") : null;
  if (way) change(/** @type {Change[]} */ (JSON.parse(way.getAttribute("data-change") || "[]")));
});
document.addEventListener("keydown", (event) => {
  const key = event.key.toLowerCase();
  if (!(event.ctrlKey || event.metaKey) || (key !== "z" && key !== "y")) return;
  const field = event.target;
  const typing = field instanceof HTMLInputElement || field instanceof HTMLTextAreaElement;
  if (typing && field.value !== field.defaultValue) return; // the field's own undo
  if (typing && !field.matches("[data-field]")) return;
  event.preventDefault();
  step(event.shiftKey || key === "y" ? 1 : -1);
});
