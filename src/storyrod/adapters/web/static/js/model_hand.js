// Turning the model by hand: dragging, arrow keys, buttons that say where to look from.

/** @typedef {import("./model_view.js").ModelView} ModelView */
/** @typedef {{turn: number, tilt: number}} Look */

const DRAG = 0.45;
const A_TAP = 6;
const MOST_ZOOM = 8;

/** @type {Record<string, Look>} */
export const LOOKS = {
  corner: { turn: 28, tilt: 22 },
  front: { turn: 0, tilt: 0 },
  left: { turn: -90, tilt: 0 },
  right: { turn: 90, tilt: 0 },
  behind: { turn: 180, tilt: 0 },
  above: { turn: 0, tilt: 90 },
  below: { turn: 0, tilt: -90 },
};

/** Let a hand turn the model; `tapped` is told the panel that was tapped, `over` the one under the pointer, or "".
 * @param {ModelView} view @param {(id: string) => void} tapped @param {(id: string) => void} over */
export function inHand(view, tapped, over) {
  const { stage } = view;
  /** @type {Map<number, {x: number, y: number}>} */
  const down = new Map();
  let far = 0, spread = 0;
  stage.addEventListener("pointerdown", (event) => {
    if (event.button) return;
    down.set(event.pointerId, { x: event.clientX, y: event.clientY });
    stage.setPointerCapture(event.pointerId); // the piece under the finger may be moved in the drawing
    if (down.size === 1) far = 0;
    spread = apart(down);
  });
  stage.addEventListener("pointermove", (event) => {
    const last = down.get(event.pointerId);
    if (!last) {
      if (event.pointerType === "mouse") over(panelAt(event));
      return;
    }
    const dx = event.clientX - last.x, dy = event.clientY - last.y;
    down.set(event.pointerId, { x: event.clientX, y: event.clientY });
    if (down.size === 2) {
      const now = apart(down);
      if (spread) zoom(view, now / spread);
      spread = now;
      far = A_TAP;
      return;
    }
    far += Math.hypot(dx, dy);
    if (far < A_TAP) return;
    turn(view, -dx * DRAG, dy * DRAG);
  });
  const up = (/** @type {PointerEvent} */ event) => {
    const was = down.delete(event.pointerId);
    if (was && event.type === "pointerup" && far < A_TAP && !down.size) tapped(panelAt(event));
  };
  stage.addEventListener("pointerup", up);
  stage.addEventListener("pointercancel", up);
  stage.addEventListener("pointerleave", () => over(""));
  stage.addEventListener("wheel", (event) => {
    if (!event.ctrlKey) return; // a plain wheel moves the page on
    event.preventDefault();
    zoom(view, Math.exp(-event.deltaY / 200));
  }, { passive: false });
  stage.addEventListener("keydown", (event) => {
    if (event.altKey || event.ctrlKey || event.metaKey) return;
    const by = { ArrowLeft: [15, 0], ArrowRight: [-15, 0], ArrowUp: [0, 10], ArrowDown: [0, -10] }[event.key];
    if (by) turn(view, by[0], by[1]);
    else if (event.key === "+" || event.key === "=") zoom(view, 1.25);
    else if (event.key === "-") zoom(view, 0.8);
    else return;
    event.preventDefault();
    event.stopPropagation();
  });
}

/** @param {Map<number, {x: number, y: number}>} down */
function apart(down) {
  const [a, b] = [...down.values()];
  return b ? Math.hypot(a.x - b.x, a.y - b.y) : 0;
}

/** @param {PointerEvent} event */
function panelAt(event) {
  const found = document.elementFromPoint(event.clientX, event.clientY);
  return found?.closest(".piece")?.getAttribute("data-panel") || "";
}

/** @param {ModelView} view @param {number} by @param {number} tip */
export function turn(view, by, tip) {
  view.passing = null;
  view.turn = (((view.turn + by) % 360) + 360) % 360;
  view.tilt = Math.max(-90, Math.min(90, view.tilt + tip));
  view.draw();
}

/** @param {ModelView} view @param {number} times */
export function zoom(view, times) {
  view.zoom = Math.max(1, Math.min(MOST_ZOOM, view.zoom * times));
  view.draw();
}

/** Make the buttons of a box work: those with `data-look`, `data-zoom`.
 * @param {HTMLElement} box @param {ModelView} view */
export function buttons(box, view) {
  box.addEventListener("click", (event) => {
    const button = event.target instanceof Element ? event.target.closest("button") : null;
    if (!button) return;
    const look = LOOKS[button.dataset.look || ""];
    if (look) view.lookFrom(look.turn, look.tilt);
    if (button.dataset.zoom) zoom(view, Number(button.dataset.zoom));
  });
}
