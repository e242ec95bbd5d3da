// Notes and photos: sent without leaving the page; what could not be sent stays in its form.
import { put, say } from "./exchange.js";

/** The longest side of a photo as it is kept (px): more shows nothing more at the bench. */
const LONGEST = 1600;

document.addEventListener("submit", (event) => {
  const form = event.target;
  if (!(form instanceof HTMLFormElement) || !form.matches("[data-notes]")) return;
  event.preventDefault();
  send(form);
});

/** @param {HTMLFormElement} form */
async function send(form) {
  const button = /** @type {HTMLButtonElement | null} */ (form.querySelector("[type=submit]"));
  const sent = new FormData(form);
  form.dataset.id ||= [...crypto.getRandomValues(new Uint8Array(16))].map((b) => b.toString(16).padStart(2, "0")).join("");
  sent.set("id", form.dataset.id);
  const photo = sent.get("photo");
  if (photo instanceof File) {
    if (photo.size) sent.set("photo", await smaller(photo), "photo.jpg");
    else sent.delete("photo");
  }
  if (button) button.disabled = true;
  try {
    const response = await fetch(form.action, { method: "POST", body: sent, headers: { Accept: "application/json" } });
    const told = response.headers.get("Content-Type")?.startsWith("application/json") ? await response.json() : { said: await response.text() };
    if (response.ok) {
      delete form.dataset.id; // the next is another note
      form.reset();
      put(told);
    } else {
      say((told.faults || []).map((/** @type {{words: string}} */ f) => f.words).join(" ") || told.said || "Not kept.", 20);
    }
  } catch {
    say("Not kept: the server is away. What you wrote stays here; send it again later.", 20);
  }
  if (button) button.disabled = false;
}

/** A photo no larger than is of use, as JPEG: so it carries neither its place nor the camera's data any more. What cannot
 * be read as a picture goes as it is, and the server says what is wrong with it.
 * @param {File} photo @returns {Promise<Blob>} */
async function smaller(photo) {
  try {
    const picture = await createImageBitmap(photo);
    const share = Math.min(1, LONGEST / Math.max(picture.width, picture.height));
    const canvas = document.createElement("canvas");
    canvas.width = Math.max(1, Math.round(picture.width * share));
    canvas.height = Math.max(1, Math.round(picture.height * share));
    canvas.getContext("2d")?.drawImage(picture, 0, 0, canvas.width, canvas.height);
    return await new Promise((resolve) => { canvas.toBlob((made) => resolve(made || photo), "image/jpeg", 0.85); });
  } catch {
    return photo;
  }
}

// At the bench the form is about the card in view, until another place is chosen.
document.addEventListener("storyrod:card", (event) => {
  const which = document.getElementById("note-at");
  if (!(which instanceof HTMLSelectElement)) return;
  const at = `card ${/** @type {CustomEvent<string>} */ (event).detail}`;
  const text = document.getElementById("note-text");
  const isTyping = text instanceof HTMLTextAreaElement && text.value !== "";
  if (!isTyping && [...which.options].some((o) => o.value === at)) which.value = at;
});
