// A job that was changed elsewhere: the page takes its matter anew and keeps its place.
import { say } from "./exchange.js";

/** Put the pieces of these ids anew whenever the job has changed, then begin again.
 * @param {string[]} ids @param {() => void | Promise<void>} begin @param {() => string} [address] of this page now */
export function again(ids, begin, address = () => location.pathname + location.search) {
  let busy = false, once = false;
  const fetchAnew = async () => {
    if (busy) { once = true; return; }
    busy = true;
    try {
      const page = await pageAt(address());
      if (page) {
        put(page, ["faults", "rod", "undoing", ...ids]);
        name(page);
        await begin();
      }
    } catch {
      say("The server is away: what is shown may be old.", 20);
    }
    busy = false;
    if (once) { once = false; fetchAnew(); }
  };
  document.addEventListener("storyrod:changed", (event) => { event.preventDefault(); fetchAnew(); });
  document.addEventListener("storyrod:planned", fetchAnew);
}

/** The page at an address; where what was looked at is gone, the page without it.
 * @param {string} address @returns {Promise<Document | null>} */
async function pageAt(address) {
  for (const way of [address, location.pathname]) {
    const response = await fetch(way);
    if (response.ok) return new DOMParser().parseFromString(await response.text(), "text/html");
  }
  return null;
}

/** @param {Document} page @param {string[]} ids */
function put(page, ids) {
  for (const id of ids) {
    const old = document.getElementById(id), fresh = page.getElementById(id);
    if (old && fresh) old.replaceWith(document.adoptNode(fresh));
  }
}

/** The head's title is kept, since other scripts hold it; it takes the name and version of the fresh one.
 * @param {Document} page */
function name(page) {
  const old = document.getElementById("job-title"), fresh = page.getElementById("job-title");
  if (!old || !fresh) return;
  old.textContent = fresh.textContent;
  old.dataset.version = fresh.dataset.version;
}
