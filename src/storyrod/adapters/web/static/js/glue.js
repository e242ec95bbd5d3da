// Choices for a glue-up that takes too long: every one is tried behind the page, and shown where it will do.
import { ask, put } from "./exchange.js";

const job = document.getElementById("job-title")?.dataset.job || "";
const stage = location.pathname.split("/")[3] || "";

/** Ask for the choices wherever a place waits for them. */
export async function fillGlue() {
  if (!document.querySelector("[data-glue]")) return;
  try {
    const { status, answer } = await ask(`/job/${encodeURIComponent(job)}/glue-up?at=${stage}`);
    if (status === 200) put(answer);
  } catch { /* The caution itself says what will do. */ }
}
