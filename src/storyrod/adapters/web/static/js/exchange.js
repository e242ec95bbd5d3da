// Talking with the server: send a change, put the pieces that come back in their places, say what went wrong.

/**
 * @typedef {{swap?: Record<string, string>, said?: string, faults?: {field: string, words: string}[], version?: string,
 *   go?: string, [more: string]: unknown}} Answer
 */

/** Send plain values to an address; returns the answer with its status. Throws only where the server is not reached.
 * @param {string} address
 * @param {Record<string, unknown>} values
 * @returns {Promise<{status: number, answer: Answer}>} */
export async function send(address, values) {
  const response = await fetch(address, {
    method: "POST",
    headers: { "Content-Type": "application/json", Accept: "application/json" },
    body: JSON.stringify(values),
  });
  return { status: response.status, answer: await read(response) };
}

/** Fetch an answer.
 * @param {string} address
 * @returns {Promise<{status: number, answer: Answer}>} */
export async function ask(address) {
  const response = await fetch(address, { headers: { Accept: "application/json" } });
  return { status: response.status, answer: await read(response) };
}

/** @param {Response} response @returns {Promise<Answer>} */
async function read(response) {
  const kind = response.headers.get("Content-Type") || "";
  if (kind.startsWith("application/json")) return response.json();
  const words = await response.text();
  return response.ok ? {} : { said: words };
}

/** @type {WeakMap<Element, string>} */
const told = new WeakMap();

let replacing = false;
// A field that goes from the page while it has the focus tells of its change as it goes: it was sent, or is still typed.
document.addEventListener("change", (event) => { if (replacing) event.stopImmediatePropagation(); }, true);

/** Put each piece of an answer in the place of the element of its id. A steady piece (`data-steady`) that says again what
 * it said is left alone; the field being typed in keeps its focus and what was typed; what was unfolded stays so.
 * @param {Answer} answer */
export function put(answer) {
  for (const [id, html] of Object.entries(answer.swap || {})) {
    const old = document.getElementById(id);
    if (!old || (old.hasAttribute("data-steady") && told.get(old) === html && !isTypedIn(old))) continue;
    const box = document.createElement("template");
    box.innerHTML = html.trim();
    const fresh = box.content.firstElementChild;
    if (!fresh) continue;
    const again = kept(old, fresh);
    replacing = true;
    old.replaceWith(fresh);
    told.set(fresh, html);
    again();
    replacing = false;
    fresh.dispatchEvent(new CustomEvent("storyrod:put", { bubbles: true }));
  }
  if (answer.said) say(answer.said);
  if (answer.go) location.assign(answer.go);
}

/** Whether something in a piece was typed or chosen that it did not come with: what was refused goes as it is drawn anew.
 * @param {Element} piece @returns {boolean} */
function isTypedIn(piece) {
  return [...piece.querySelectorAll("input, textarea, option")].some((field) => {
    if (field instanceof HTMLOptionElement) return field.selected !== field.defaultSelected && Boolean(field.closest("select")?.querySelector("[selected]"));
    if (field instanceof HTMLInputElement && (field.type === "checkbox" || field.type === "radio")) return field.checked !== field.defaultChecked;
    return (field instanceof HTMLInputElement || field instanceof HTMLTextAreaElement) && field.value !== field.defaultValue;
  });
}

/** Remember what a piece holds of the person: what is unfolded, where the cursor is, what is typed but not yet sent.
 * @param {Element} old @param {Element} fresh
 * @returns {() => void} puts it into the piece that takes its place */
function kept(old, fresh) {
  for (const before of [old, ...old.querySelectorAll("details[id]")]) {
    const after = before === old ? fresh : fresh.querySelector(`#${CSS.escape(before.id)}`);
    if (before instanceof HTMLDetailsElement && after instanceof HTMLDetailsElement && before.open) after.open = true;
  }
  const focused = old.contains(document.activeElement) ? /** @type {HTMLElement} */ (document.activeElement) : null;
  if (!focused) return () => {};
  const field = focused.getAttribute("data-field");
  const key = focused.id ? `#${CSS.escape(focused.id)}` : field && `[data-field="${CSS.escape(field)}"]`;
  const typing = focused instanceof HTMLInputElement || focused instanceof HTMLTextAreaElement;
  const typed = typing && focused.value !== focused.defaultValue && !focused.matches("[data-sent]") ? focused.value : null;
  const cursor = typing && focused.selectionStart !== null ? [focused.selectionStart, focused.selectionEnd] : null;
  return () => {
    if (!key) return;
    const now = /** @type {HTMLElement | null} */ (fresh.matches(key) ? fresh : fresh.querySelector(key));
    now?.focus({ preventScroll: true });
    if (!(now instanceof HTMLInputElement || now instanceof HTMLTextAreaElement)) return;
    if (typed !== null) {
      now.value = typed;
      toldWhenLeft(now);
    }
    if (cursor && now.selectionStart !== null) now.setSelectionRange(cursor[0], cursor[1]);
  };
}

/** A browser tells no change of what was put into a field by a script: it is told here, when the field is left.
 * @param {HTMLInputElement | HTMLTextAreaElement} field */
function toldWhenLeft(field) {
  let sent = false;
  field.addEventListener("change", () => { sent = true; }, { once: true });
  field.addEventListener("blur", () => {
    if (!sent && !replacing && field.isConnected && field.value !== field.defaultValue) {
      field.dispatchEvent(new Event("change", { bubbles: true }));
    }
  }, { once: true });
}

let fading = 0;

/** Say something in the corner for a while; read out by a screen reader.
 * @param {string} words @param {number} [seconds] */
export function say(words, seconds = 6) {
  const place = document.getElementById("said");
  if (!place) return;
  place.textContent = words;
  clearTimeout(fading);
  fading = window.setTimeout(() => { place.textContent = ""; }, seconds * 1000);
}
