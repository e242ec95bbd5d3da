// A paper in the making: how far it is, a way to stop it, and on to it once it is there.
import { ask, put, send } from "./exchange.js";

const AGAIN_MS = 300;
const address = location.pathname + location.search;

/** @param {import("./exchange.js").Answer} answer */
function show(answer) {
  put(answer);
  if (answer.made) location.replace(String(answer.made));
  else if (answer.working) follow();
}

function follow() {
  window.setTimeout(async () => {
    if (document.getElementById("making")?.dataset.working !== "yes") return;
    try {
      const { status, answer } = await ask(address);
      if (status === 200) show(answer);
      else location.reload();
    } catch {
      follow(); // the server may come back
    }
  }, AGAIN_MS);
}

document.addEventListener("submit", async (event) => {
  if (!(event.target instanceof HTMLFormElement) || !event.target.closest("#making")) return;
  event.preventDefault();
  const { status, answer } = await send(address, {});
  if (status === 200) show(answer);
});

follow();
