// A wish: one more row of the form when it is wanted, and proposals as they come.
import { fillWhileWorking } from "./filling.js";

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

fillWhileWorking("wish-result", "All kinds are tried.", 500);
