// A study: its result fills while it is worked out.
import { ask, put, say } from "./exchange.js";

function fill() {
  window.setTimeout(async () => {
    const { pathname, search } = location;
    try {
      const { status, answer } = await ask(`${pathname}/part${search}`);
      if (status !== 200) return;
      put(answer);
      if (answer.working) fill();
      else say("Every variant is worked out.");
    } catch {
      fill(); // the server may come back
    }
  }, 700);
}

if (document.getElementById("study-result")?.dataset.working === "yes") fill();
