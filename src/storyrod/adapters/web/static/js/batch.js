// Jobs made together: the result fills while it is worked out.
import { ask, put, say } from "./exchange.js";

function fill() {
  window.setTimeout(async () => {
    try {
      const { status, answer } = await ask(`/batch/part${location.search}`);
      if (status !== 200) return;
      put(answer);
      if (answer.working) fill();
      else say("The jobs are planned together.");
    } catch {
      fill(); // the server may come back
    }
  }, 700);
}

if (document.getElementById("batch-result")?.dataset.working === "yes") fill();
