// The way by which something is brought: how far off it is shown, and the arrow of its movement.
import { made, on } from "./model_paint.js";
import { hull } from "./model_view.js";

/** @typedef {import("./model_eye.js").Vec} Vec */

const APART = 0.32;
const SLIDE = 0.07;
const LEAST = 44;

/** A movement long enough to be seen: the first leg a share of what is shown, a slide after it a small one.
 * @param {Vec[]} legs in the case, as they are made @param {{low: Vec, high: Vec}[]} there
 * @returns {{off: (share: number) => Vec, from: (share: number) => Vec[]}} where it is off its place when it has come
 *   so far, and the corners of the rest of its way, from there home */
export function way(legs, there) {
  const { low, high } = hull(there);
  const mean = (high[0] - low[0] + high[1] - low[1] + high[2] - low[2]) / 3;
  const longer = legs.map((leg, n) => {
    const long = Math.hypot(...leg) || 1;
    const times = Math.max(1, ((n ? SLIDE : APART) * mean) / long);
    return /** @type {Vec} */ (leg.map((v) => v * times));
  });
  const corners = [/** @type {Vec} */ ([0, 0, 0])];
  for (const leg of [...longer].reverse()) corners.unshift(/** @type {Vec} */ (corners[0].map((v, k) => v - leg[k])));
  return { off: (share) => along(corners, longer, share)[0], from: (share) => along(corners, longer, share) };
}

/** @param {Vec[]} corners @param {Vec[]} legs @param {number} share @returns {Vec[]} */
function along(corners, legs, share) {
  const longs = legs.map((leg) => Math.hypot(...leg));
  let left = share * longs.reduce((a, b) => a + b, 0);
  for (let n = 0; n < legs.length; n++) {
    if (left < longs[n] - 1e-9) {
      const part = left / longs[n];
      return [/** @type {Vec} */ (corners[n].map((v, k) => v + part * legs[n][k])), ...corners.slice(n + 1)];
    }
    left -= longs[n];
  }
  return [corners[corners.length - 1]];
}

/** Draw the arrow from where something is to its place; each straight piece long enough to be seen.
 * @param {import("./model_view.js").ModelView} view @param {{low: Vec, high: Vec}} box of what moves, where it is now
 * @param {Vec[]} corners of its way, from where it is now @param {string} slide what is written at the bend, if it slides */
export function drawArrow(view, box, corners, slide) {
  const frame = view.at, eye = view.eye;
  if (!frame || corners.length < 2) return;
  const [here] = corners;
  const middle = /** @type {Vec} */ ([0, 1, 2].map((k) => (box.low[k] + box.high[k]) / 2 - here[k]));
  const points = longEnough(corners.map((c) => on(/** @type {Vec} */ (c.map((v, k) => v + middle[k])), eye, frame)));
  const [a, b] = points.slice(-2);
  const long = Math.hypot(b[0] - a[0], b[1] - a[1]);
  if (long < 4) return;
  const [dx, dy] = [(b[0] - a[0]) / long, (b[1] - a[1]) / long];
  const neck = [b[0] - dx * Math.min(16, long), b[1] - dy * Math.min(16, long)];
  const shaft = [...points.slice(0, -1), neck].map((p) => p.map((v) => v.toFixed(1)).join(" ")).join("L");
  const head = [b, [b[0] - dx * 18 - dy * 9, b[1] - dy * 18 + dx * 9], [b[0] - dx * 18 + dy * 9, b[1] - dy * 18 - dx * 9]];
  view.taken = spots([...points]);
  view.above.append(
    made("path", { class: "arrow-rim", d: `M${shaft}` }),
    made("path", { class: "arrow", d: `M${shaft}` }),
    made("path", { class: "arrow-head", d: `M${head.map((p) => p.map((v) => v.toFixed(1)).join(" ")).join("L")}z` }),
  );
  if (slide && points.length > 2) {
    const right = dx >= 0; // on the side of the bend away from the slide
    const text = made("text", { class: "slide-words", x: (a[0] + (right ? -10 : 10)).toFixed(1), y: (a[1] + 5).toFixed(1), "text-anchor": right ? "end" : "start" });
    text.textContent = slide;
    view.above.append(text);
    view.taken.push(right ? { left: a[0] - 90, right: a[0], y: a[1] } : { left: a[0], right: a[0] + 90, y: a[1] });
  }
}

/** Corners of a way of which each piece but the first is as long as an arrow needs; the end stays where it is.
 * @param {[number, number][]} points @returns {[number, number][]} */
function longEnough(points) {
  const out = [points[points.length - 1]];
  for (let n = points.length - 2; n >= 0; n--) {
    const [x, y] = out[0], dx = points[n + 1][0] - points[n][0], dy = points[n + 1][1] - points[n][1];
    const long = Math.hypot(dx, dy), times = n > 0 && long > 0.1 ? Math.max(1, LEAST / long) : 1;
    out.unshift([x - dx * times, y - dy * times]);
  }
  return out;
}

/** Where the arrow leaves no room for a mark. @param {[number, number][]} points */
function spots(points) {
  const found = [];
  for (let n = 1; n < points.length; n++) {
    const [[x0, y0], [x1, y1]] = [points[n - 1], points[n]];
    const count = Math.max(1, Math.ceil(Math.hypot(x1 - x0, y1 - y0) / 12));
    for (let k = 0; k <= count; k++) {
      const x = x0 + ((x1 - x0) * k) / count;
      found.push({ left: x - 10, right: x + 10, y: y0 + ((y1 - y0) * k) / count });
    }
  }
  return found;
}
