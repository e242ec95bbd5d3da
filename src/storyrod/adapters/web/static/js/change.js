// Changing the job: every change is sent at once with the version it was made on; the answer tells how the job stands.
import { put, say, send } from "./exchange.js";

/** @typedef {{path: string, act?: "set" | "delete" | "insert", value?: unknown}} Change */
/** @typedef {import("./exchange.js").Answer} Answer */

const title = /** @type {HTMLElement} */ (document.getElementById("job-title"));
let line = Promise.resolve(/** @type {unknown} */ (null));

/** Change fields of the job; changes made quickly one after the other are sent in turn.
 * Resolves to the answer, or null where nothing was written (the maker has been told why).
 * @param {Change[]} changes
 * @returns {Promise<Answer | null>} */
export function change(changes) {
  return inTurn(() => post("change", { base: title.dataset.version, changes }));
}

/** Undo (-1) or do again (1).
 * @param {-1 | 1} by
 * @returns {Promise<Answer | null>} */
export function step(by) {
  return inTurn(() => post("step", { by }));
}

/** @param {() => Promise<Answer | null>} act @returns {Promise<Answer | null>} */
function inTurn(act) {
  const done = line.then(act, act);
  line = done;
  return done;
}

/** @param {string} what @param {Record<string, unknown>} values @returns {Promise<Answer | null>} */
async function post(what, values) {
  const stage = location.pathname.split("/")[3] || "";
  /** @type {{status: number, answer: Answer}} */
  let got;
  try {
    got = await send(`/job/${encodeURIComponent(title.dataset.job || "")}/${what}`, { ...values, stage });
  } catch {
    say("The page's server is not there: nothing was changed. Start it again, then repeat this.", 20);
    return null;
  }
  const { status, answer } = got;
  if (status !== 200) {
    const words = answer.said || (answer.faults || []).map((f) => f.words).join(" ") || "Nothing was changed.";
    say(words, 20);
    if (status === 409) document.dispatchEvent(new CustomEvent("storyrod:stale", { detail: answer }));
    return null;
  }
  title.dataset.version = answer.version;
  if (typeof answer.title === "string") title.textContent = answer.title;
  put(answer);
  document.dispatchEvent(new CustomEvent("storyrod:planned", { detail: answer }));
  return answer;
}

document.addEventListener("click", (event) => {
  const button = event.target instanceof Element ? event.target.closest("[data-step]") : null;
  if (button) step(button.getAttribute("data-step") === "1" ? 1 : -1);
});
document.addEventListener("keydown", (event) => {
  if (!(event.ctrlKey || event.metaKey) || event.key.toLowerCase() !== "z") return;
  if (event.target instanceof HTMLElement && event.target.matches("input, textarea, select")) return;
  event.preventDefault();
  step(event.shiftKey ? 1 : -1);
});
