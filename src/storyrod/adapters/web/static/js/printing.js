// Print: says that something is being made, and shows the stage anew when the job was changed elsewhere.
import { say } from "./exchange.js";

/** @param {Event} event */
function tell(event) {
  const from = event.target instanceof Element ? event.target.closest("[data-slow]") : null;
  if (from instanceof HTMLElement && (event.type === "submit" || from.matches("a"))) say(from.dataset.slow || "", 12);
}

document.addEventListener("submit", tell);
document.addEventListener("click", tell);

/** The page holds nothing that is being typed for long: it is simply loaded anew, at the same place. */
function again() {
  sessionStorage.setItem("storyrod-print-at", String(scrollY));
  location.reload();
}

const at = sessionStorage.getItem("storyrod-print-at");
if (at !== null) {
  sessionStorage.removeItem("storyrod-print-at");
  scrollTo({ top: Number(at) });
}
document.addEventListener("storyrod:planned", again);
document.addEventListener("storyrod:workshop", (event) => {
  event.preventDefault();
  again();
});
document.addEventListener("storyrod:stale", again);
document.addEventListener("storyrod:changed", (event) => {
  event.preventDefault();
  again();
});
