// What takes long fills while it is worked out: a page asks its own address with /part until all is known.
import { ask, put, say } from "./exchange.js";

/** Fill an element again and again, as long as it says that it is being worked out; then say so.
 * @param {string} id of the element
 * @param {string} words said in the end
 * @param {number} every milliseconds between two questions */
export function fillWhileWorking(id, words, every = 700) {
  if (document.getElementById(id)?.dataset.working === "yes") later(words, every);
}

/** @param {string} words @param {number} every */
function later(words, every) {
  window.setTimeout(async () => {
    try {
      const { status, answer } = await ask(`${location.pathname}/part${location.search}`);
      if (status !== 200) return;
      put(answer);
      if (answer.working) later(words, every);
      else say(words);
    } catch {
      later(words, every); // the server may come back
    }
  }, every);
}
