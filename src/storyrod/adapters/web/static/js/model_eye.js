// The eye that looks at the model: which ways of the case run right, up and toward it in the picture.

/** @typedef {[number, number, number]} Vec a place or way in the case frame: x right, y back, z up (mm) */
/** @typedef {{right: Vec, up: Vec, toward: Vec}} Eye */
/** @typedef {[Vec, Vec, Vec]} Lies the ways of the case that point right, away from the maker, and up */

/** @type {Lies} */
export const UPRIGHT = [[1, 0, 0], [0, 1, 0], [0, 0, 1]];

/** The eye, turned to see the right side and tilted to see the top, of a case that lies as said.
 * @param {number} turn degrees @param {number} tilt degrees @param {Lies} [lies] @returns {Eye} */
export function eyeAt(turn, tilt, lies = UPRIGHT) {
  const [ca, sa] = around(turn), [ce, se] = around(tilt);
  return {
    right: mixed(lies, ca, sa, 0),
    up: mixed(lies, -sa * se, ca * se, ce),
    toward: mixed(lies, sa * ce, -ca * ce, se),
  };
}

/** @param {number} degrees @returns {[number, number]} cosine and sine; exact at quarter turns */
function around(degrees) {
  const angle = (degrees * Math.PI) / 180;
  const c = Math.cos(angle), s = Math.sin(angle);
  return [Math.abs(c) < 1e-12 ? 0 : c, Math.abs(s) < 1e-12 ? 0 : s];
}

/** @param {Lies} lies @param {number} a @param {number} b @param {number} c @returns {Vec} */
function mixed([r, w, u], a, b, c) {
  return [a * r[0] + b * w[0] + c * u[0], a * r[1] + b * w[1] + c * u[1], a * r[2] + b * w[2] + c * u[2]];
}

/** An eye on the shortest way from one to another.
 * @param {Eye} from @param {Eye} to @param {number} share 0 to 1 @returns {Eye} */
export function eyeBetween(from, to, share) {
  const a = quaternion(from);
  let b = quaternion(to);
  let dot = a[0] * b[0] + a[1] * b[1] + a[2] * b[2] + a[3] * b[3];
  if (dot < 0) { b = /** @type {typeof b} */ (b.map((x) => -x)); dot = -dot; }
  const angle = Math.acos(Math.min(1, dot));
  const [p, q] = angle < 1e-4 ? [1 - share, share] : [Math.sin((1 - share) * angle) / Math.sin(angle), Math.sin(share * angle) / Math.sin(angle)];
  return eyeOf([p * a[0] + q * b[0], p * a[1] + q * b[1], p * a[2] + q * b[2], p * a[3] + q * b[3]]);
}

/** @param {Eye} eye @returns {[number, number, number, number]} w, x, y, z of the turn whose rows are the eye's ways */
function quaternion({ right: r, up: u, toward: t }) {
  const trace = r[0] + u[1] + t[2];
  if (trace > 0) {
    const s = 2 * Math.sqrt(trace + 1);
    return [s / 4, (t[1] - u[2]) / s, (r[2] - t[0]) / s, (u[0] - r[1]) / s];
  }
  if (r[0] > u[1] && r[0] > t[2]) {
    const s = 2 * Math.sqrt(1 + r[0] - u[1] - t[2]);
    return [(t[1] - u[2]) / s, s / 4, (r[1] + u[0]) / s, (r[2] + t[0]) / s];
  }
  if (u[1] > t[2]) {
    const s = 2 * Math.sqrt(1 + u[1] - r[0] - t[2]);
    return [(r[2] - t[0]) / s, (r[1] + u[0]) / s, s / 4, (u[2] + t[1]) / s];
  }
  const s = 2 * Math.sqrt(1 + t[2] - r[0] - u[1]);
  return [(u[0] - r[1]) / s, (r[2] + t[0]) / s, (u[2] + t[1]) / s, s / 4];
}

/** @param {[number, number, number, number]} q @returns {Eye} */
function eyeOf(q) {
  const n = Math.hypot(...q) || 1;
  const [w, x, y, z] = q.map((v) => v / n);
  return {
    right: [1 - 2 * (y * y + z * z), 2 * (x * y - w * z), 2 * (x * z + w * y)],
    up: [2 * (x * y + w * z), 1 - 2 * (x * x + z * z), 2 * (y * z - w * x)],
    toward: [2 * (x * z - w * y), 2 * (y * z + w * x), 1 - 2 * (x * x + y * y)],
  };
}

/** @param {Vec} a @param {Vec} b @returns {number} */
export function dot(a, b) {
  return a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
}
