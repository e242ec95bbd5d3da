// The day's work: the result fills while it is worked out.
import { ask, put, say } from "./exchange.js";

function fill() {
  window.setTimeout(async () => {
    try {
      const { status, answer } = await ask(`/day/part${location.search}`);
      if (status !== 200) return;
      put(answer);
      if (answer.working) fill();
      else say("The days are planned.");
    } catch {
      fill(); // the server may come back
    }
  }, 700);
}

if (document.getElementById("day-result")?.dataset.working === "yes") fill();
