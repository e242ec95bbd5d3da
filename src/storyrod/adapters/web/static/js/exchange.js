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

/** Put each piece of an answer in the place of the element of its id; the field being typed in keeps its focus.
 * @param {Answer} answer */
export function put(answer) {
  for (const [id, html] of Object.entries(answer.swap || {})) {
    const old = document.getElementById(id);
    if (!old) continue;
    const focused = old.contains(document.activeElement) ? document.activeElement : null;
    const key = focused && (focused.id ? `#${CSS.escape(focused.id)}` : focused.getAttribute("data-field") && `[data-field="${CSS.escape(focused.getAttribute("data-field") || "")}"]`);
    const box = document.createElement("template");
    box.innerHTML = html.trim();
    const fresh = box.content.firstElementChild;
    if (!fresh) continue;
    old.replaceWith(fresh);
    if (key) /** @type {HTMLElement | null} */ (fresh.matches(key) ? fresh : fresh.querySelector(key))?.focus({ preventScroll: true });
    fresh.dispatchEvent(new CustomEvent("storyrod:put", { bubbles: true }));
  }
  if (answer.said) say(answer.said);
  if (answer.go) location.assign(answer.go);
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
