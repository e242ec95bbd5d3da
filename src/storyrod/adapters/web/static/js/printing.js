// Print: what wants the whole plan comes once it is checked; the stage is shown anew when the job was changed elsewhere.
import { take } from "./change.js";
import { ask } from "./exchange.js";

const job = document.getElementById("job-title")?.dataset.job || "";
const RETRY_MS = 3000;

async function fill() {
  if (document.getElementById("printing")?.dataset.waiting === "yes") {
    try {
      const { status, answer } = await ask(`/job/${encodeURIComponent(job)}/print/part`);
      if (status === 200) take(answer);
    } catch {
      window.setTimeout(fill, RETRY_MS); // the server may come back
      return;
    }
  }
  const at = sessionStorage.getItem("storyrod-print-at");
  if (at === null) return;
  sessionStorage.removeItem("storyrod-print-at");
  scrollTo({ top: Number(at) });
}

/** The page holds nothing that is being typed for long: it is simply loaded anew, at the same place. */
function again() {
  sessionStorage.setItem("storyrod-print-at", String(scrollY));
  location.reload();
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
fill();
