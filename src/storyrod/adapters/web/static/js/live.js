// One socket for the job of this page: what other pages and the disk do to it. It comes back by itself.

/** @type {Set<(word: {kind: string, [more: string]: unknown}) => void>} */
const hearers = new Set();
/** @type {Set<(open: boolean) => void>} */
const watchers = new Set();
/** @type {WebSocket | null} */
let socket = null;
let wait = 500;

/** Hear every word about a job, and whether the server is there: at once, where that is known before one listens.
 * @param {string} job
 * @param {(word: {kind: string, [more: string]: unknown}) => void} hear
 * @param {(open: boolean) => void} [watch] */
export function listen(job, hear, watch) {
  hearers.add(hear);
  if (watch) watchers.add(watch);
  if (!socket) open(job);
  else if (watch && socket.readyState !== WebSocket.CONNECTING) watch(socket.readyState === WebSocket.OPEN);
}

/** @param {string} job */
function open(job) {
  const address = `${location.protocol === "https:" ? "wss" : "ws"}://${location.host}/job/${encodeURIComponent(job)}/live`;
  socket = new WebSocket(address);
  socket.addEventListener("open", () => { wait = 500; for (const w of watchers) w(true); });
  socket.addEventListener("message", (event) => {
    const word = JSON.parse(event.data);
    for (const hear of hearers) hear(word);
  });
  socket.addEventListener("close", () => {
    for (const w of watchers) w(false);
    window.setTimeout(() => open(job), wait);
    wait = Math.min(wait * 2, 8000);
  });
}
