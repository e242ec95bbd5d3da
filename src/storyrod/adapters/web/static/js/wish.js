// A wish: one more row of the form when it is wanted, and proposals as they come.
import { ask, put, say } from "./exchange.js";

const more = document.querySelector("button.wish-more");
if (more instanceof HTMLButtonElement) {
  const next = () => document.querySelector("[data-more][hidden]");
  more.hidden = !next();
  more.addEventListener("click", () => {
    const row = next();
    if (!(row instanceof HTMLElement)) return;
    row.hidden = false;
    row.querySelector("select")?.focus();
    more.hidden = !next();
  });
}

function fill() {
  window.setTimeout(async () => {
    try {
      const { status, answer } = await ask(`/wish/part${location.search}`);
      if (status !== 200) return;
      put(answer);
      if (answer.working) fill();
      else say("All kinds are tried.");
    } catch {
      fill(); // the server may come back
    }
  }, 500);
}

if (document.getElementById("wish-result")?.dataset.working === "yes") fill();
