// The marks of panels, written on them where they can be seen.
import { spansOf, waysAcross } from "./model_order.js";
import { made, on } from "./model_paint.js";

/** @typedef {import("./model_eye.js").Vec} Vec */

const SHARES = [0.5, 0.3, 0.7, 0.15, 0.85];
const HALF_HIGH = 10;
const LETTER = 5.6;

/** Return a text for each panel of which a place is in sight, none upon another.
 * @param {import("./model_view.js").ModelView} view @returns {SVGElement[]} */
export function marked(view) {
  const { eye, at: frame, pieces, parts, order, room } = view;
  if (!frame) return [];
  const across = waysAcross(eye), ways = across.length;
  const spans = spansOf(order.map((n) => pieces[n]), across);
  const rank = new Int32Array(pieces.length);
  order.forEach((n, place) => { rank[n] = place; });
  const clear = order.map((n) => view.through && parts[pieces[n].thing].panel.side);
  /** @type {number[][]} */
  const own = parts.map(() => []);
  pieces.forEach((piece, n) => own[piece.thing].push(n));
  /** @type {{left: number, right: number, y: number}[]} */
  const taken = [...view.taken];
  const seen = (/** @type {Vec} */ p, /** @type {number} */ piece) => {
    const values = across.map((w) => w[0] * p[0] + w[1] * p[1] + w[2] * p[2]);
    for (let m = order.length - 1; m > rank[piece]; m--) {
      let k = 0;
      for (let at = 2 * m * ways; k < ways && spans[at] < values[k] && values[k] < spans[at + 1]; k++) at += 2;
      if (k === ways && !clear[m]) return false;
    }
    return true;
  };
  const things = parts.map((_, n) => n).sort((a, b) => Number(parts[b].moves) - Number(parts[a].moves) || parts[a].panel.id.localeCompare(parts[b].panel.id));
  return things.flatMap((thing) => {
    const { panel } = parts[thing];
    const half = (panel.mark.length * LETTER * 1.8) / 2 + 3;
    for (const [place, piece] of places(own[thing].map((n) => ({ n, ...pieces[n] })), eye)) {
      const [x, y] = on(place, eye, frame);
      const free = x - half > 2 && x + half < room[0] - 2 && y > HALF_HIGH && y < room[1] - HALF_HIGH;
      if (!free || taken.some((t) => t.left < x + half && x - half < t.right && Math.abs(t.y - y) < 2 * HALF_HIGH)) continue;
      if (!seen(place, piece)) continue;
      taken.push({ left: x - half, right: x + half, y });
      const text = made("text", { class: "panel-mark", x: x.toFixed(1), y: (y + 5).toFixed(1), "text-anchor": "middle" });
      text.textContent = panel.mark;
      return [text];
    }
    return [];
  });
}

/** Places on the faces of a panel that look at the eye, the middle of the largest first.
 * @param {{n: number, low: Vec, high: Vec, seams: number}[]} own @param {import("./model_eye.js").Eye} eye
 * @returns {Generator<[Vec, number]>} */
function* places(own, eye) {
  const faces = own.flatMap((p) => [0, 1, 2].map((axis) => {
    const [j, k] = [0, 1, 2].filter((m) => m !== axis);
    const high = eye.toward[axis] > 0;
    const cut = p.seams & ((high ? 2 : 1) << (2 * axis));
    const area = cut ? 0 : (p.high[j] - p.low[j]) * (p.high[k] - p.low[k]) * Math.abs(eye.toward[axis]);
    return { p, axis, j, k, high, area };
  })).filter((f) => f.area > 1).sort((a, b) => b.area - a.area);
  for (const f of faces) {
    for (const s of SHARES) {
      for (const t of SHARES) {
        const at = /** @type {Vec} */ ([0, 0, 0]);
        at[f.axis] = f.high ? f.p.high[f.axis] : f.p.low[f.axis];
        at[f.j] = f.p.low[f.j] + s * (f.p.high[f.j] - f.p.low[f.j]);
        at[f.k] = f.p.low[f.k] + t * (f.p.high[f.k] - f.p.low[f.k]);
        yield [at, f.p.n];
      }
    }
  }
}
