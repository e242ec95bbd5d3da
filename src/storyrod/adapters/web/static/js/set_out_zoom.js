// Bringing a drawing nearer: it is drawn anew for more room, so that its words keep their size.
import { say } from "./exchange.js";

const STEP = 1.5;
const MOST = 10;
const WAIT_MS = 140;
let zoom = 1;
let panel = "";

/** Make a drawing's box zoom by buttons, by pinching, and by the wheel with the control key held.
 * @param {HTMLElement} box @param {HTMLElement} ways the buttons @param {() => void} redrawn */
export function zooming(box, ways, redrawn) {
  if (box.dataset.panel !== panel) zoom = 1; // kept while the same panel is drawn anew
  panel = box.dataset.panel || "";
  ways.hidden = false;
  let shown = 0, waiting = 0, asked = 0;

  const room = () => Math.max(280, Math.floor(box.clientWidth - 24));
  const draw = async () => {
    const width = Math.round(room() * zoom), nth = ++asked;
    if (Math.abs(width - shown) < 8) { redrawn(); return; }
    const middle = middleOf(box);
    const response = await fetch(`${box.dataset.address}?panel=${encodeURIComponent(panel)}&width=${width}`).catch(() => null);
    if (nth !== asked) return;
    if (!response?.ok) { say("The drawing cannot be redrawn now.", 20); return; }
    box.innerHTML = await response.text();
    box.classList.toggle("near", zoom > 1);
    shown = width;
    box.dataset.shown = String(width);
    box.scrollLeft = middle[0] * box.scrollWidth - box.clientWidth / 2;
    box.scrollTop = middle[1] * box.scrollHeight - box.clientHeight / 2;
    said(ways);
    redrawn();
  };
  const to = (/** @type {number} */ wanted) => {
    zoom = Math.max(1, Math.min(MOST, wanted));
    clearTimeout(waiting);
    waiting = window.setTimeout(draw, WAIT_MS);
  };
  ways.onclick = (event) => {
    const how = event.target instanceof Element ? event.target.closest("button")?.dataset.zoom : "";
    if (how) to(how === "in" ? zoom * STEP : how === "out" ? zoom / STEP : 1);
  };
  box.addEventListener("wheel", (event) => {
    if (!event.ctrlKey) return;
    event.preventDefault();
    to(zoom * Math.exp(-event.deltaY / 200));
  }, { passive: false });
  box.addEventListener("keydown", (event) => {
    if (event.target !== box || event.ctrlKey || event.metaKey || event.altKey) return;
    const by = { "+": STEP, "=": STEP, "-": 1 / STEP }[event.key];
    if (by) { event.preventDefault(); to(zoom * by); }
  });
  pinching(box, (times) => to(zoom * times));
  let wide = box.clientWidth;
  new ResizeObserver(() => {
    if (!box.isConnected || Math.abs(box.clientWidth - wide) < 24) return;
    wide = box.clientWidth;
    to(zoom);
  }).observe(box);
  draw();
}

/** @param {HTMLElement} box @param {(times: number) => void} pinched */
function pinching(box, pinched) {
  /** @type {Map<number, [number, number]>} */
  const down = new Map();
  let start = 0, times = 1;
  const apart = () => {
    const [a, b] = [...down.values()];
    return b ? Math.hypot(a[0] - b[0], a[1] - b[1]) : 0;
  };
  box.addEventListener("pointerdown", (event) => {
    down.set(event.pointerId, [event.clientX, event.clientY]);
    start = apart();
    times = 1;
  });
  box.addEventListener("pointermove", (event) => {
    if (!down.has(event.pointerId)) return;
    down.set(event.pointerId, [event.clientX, event.clientY]);
    if (!start) return;
    times = apart() / start;
    const sheet = /** @type {HTMLElement | null} */ (box.firstElementChild);
    if (sheet) { sheet.style.transformOrigin = "50% 50%"; sheet.style.transform = `scale(${times.toFixed(3)})`; }
  });
  const up = (/** @type {PointerEvent} */ event) => {
    down.delete(event.pointerId);
    if (!start) return;
    start = 0;
    const sheet = /** @type {HTMLElement | null} */ (box.firstElementChild);
    if (sheet) sheet.style.transform = "";
    if (Math.abs(times - 1) > 0.05) pinched(times);
  };
  for (const end of /** @type {const} */ (["pointerup", "pointercancel", "pointerleave"])) box.addEventListener(end, up);
}

/** Which place of the whole is in the middle of a box, as shares. @param {HTMLElement} box @returns {[number, number]} */
function middleOf(box) {
  return [
    (box.scrollLeft + box.clientWidth / 2) / Math.max(box.scrollWidth, 1),
    (box.scrollTop + box.clientHeight / 2) / Math.max(box.scrollHeight, 1),
  ];
}

/** @param {HTMLElement} ways */
function said(ways) {
  const of = (/** @type {string} */ how) => /** @type {HTMLButtonElement | null} */ (ways.querySelector(`[data-zoom="${how}"]`));
  const near = of("in"), far = of("out"), whole = of("whole");
  if (near) near.disabled = zoom >= MOST;
  if (far) far.disabled = zoom <= 1;
  if (whole) whole.disabled = zoom <= 1;
}
