// On every page: the theme, and word of a job that was changed elsewhere.
import { say } from "./exchange.js";
import "./help.js";
import "./more.js";
import { listen } from "./live.js";

const button = /** @type {HTMLButtonElement | null} */ (document.getElementById("theme-button"));
if (button) {
  const root = document.documentElement;
  const isDark = () => (root.dataset.theme ? root.dataset.theme === "slate" : matchMedia("(prefers-color-scheme: dark)").matches);
  const word = () => { button.textContent = isDark() ? "Light mode" : "Dark mode"; };
  word();
  button.hidden = false;
  button.addEventListener("click", () => {
    root.dataset.theme = isDark() ? "paper" : "slate";
    word();
    document.cookie = `storyrod-theme=${root.dataset.theme}; path=/; max-age=31536000; samesite=strict`;
  });
}

const job = document.getElementById("job-title");
if (job && job.dataset.job) {
  listen(job.dataset.job, (word) => {
    if (word.kind === "workshop" && document.dispatchEvent(new CustomEvent("storyrod:workshop", { cancelable: true }))) {
      say("The workshop that this job plans with was changed. Load the page again to see what that does.", 60);
    }
    if (word.kind !== "job" || word.version === job.dataset.version) return;
    const own = new CustomEvent("storyrod:changed", { detail: word, cancelable: true });
    if (document.dispatchEvent(own)) say("This job was changed somewhere else. Load the page again to see it.", 60);
  });
}

// What is folded away on the screen stands open on paper.
/** @type {HTMLDetailsElement[]} */
let unfolded = [];
window.addEventListener("beforeprint", () => {
  unfolded = [...document.querySelectorAll("details:not([open])")].filter((d) => d instanceof HTMLDetailsElement);
  for (const d of unfolded) d.open = true;
});
window.addEventListener("afterprint", () => {
  for (const d of unfolded) d.open = false;
  unfolded = [];
});
