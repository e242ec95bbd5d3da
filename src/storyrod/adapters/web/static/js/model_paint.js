// The pieces of the model as SVG: each face is drawn once, in its own plane; turning only changes its matrix.

/** @typedef {import("./model_eye.js").Vec} Vec */
/** @typedef {import("./model_eye.js").Eye} Eye */
/** @typedef {import("./model_order.js").Piece} Piece */
/** @typedef {{id: string, mark: string, name: string, size: string, board: string, told: string, tint: string,
 *   hatch: string, low: Vec, high: Vec, apart: Vec, side: boolean, front: boolean,
 *   cuts: Record<string, string>}} Panel */
/** @typedef {{x: number, y: number, scale: number, middle: Vec}} Frame where the middle of the model lies in the
 *   picture (px), how many px are a mm there, and which place of the case it is */
/** @typedef {{axis: number, high: boolean, node: SVGGElement, tint: Element, seen: boolean, put: string}} Face */
/** @typedef {{group: SVGGElement, faces: Face[]}} Painted */

export const SVG = "http://www.w3.org/2000/svg";
const WAYS = ["x", "y", "z"];
const SEEN = 1e-9;

/** @param {string} name @param {Record<string, string | number>} [values] @returns {SVGElement} */
export function made(name, values = {}) {
  const node = document.createElementNS(SVG, name);
  for (const [key, value] of Object.entries(values)) node.setAttribute(key, String(value));
  return node;
}

/** The patterns of boards, in mm of the face they lie in. Step, turn in degrees, and whether it is crossed or dotted.
 * @type {Record<string, [number, number, string]>} */
const HATCHES = {
  slant: [34, 45, "line"], "back-slant": [34, -45, "line"], level: [30, 0, "line"], upright: [30, 90, "line"],
  crossed: [40, 45, "cross"], dots: [30, 30, "dot"], light: [14, 45, "line"],
};

/** @param {string} prefix @returns {SVGElement} */
export function patterns(prefix) {
  const defs = made("defs");
  for (const [name, [step, turn, what]] of Object.entries(HATCHES)) {
    const box = { id: `${prefix}-${name}`, patternUnits: "userSpaceOnUse", width: step, height: step, patternTransform: `rotate(${turn})` };
    const pattern = made("pattern", box);
    const way = { line: `M0 0H${step}`, cross: `M0 0H${step}M0 0V${step}`, dot: "M0 0h.01" }[what] || "";
    pattern.append(made("path", { d: way, class: "pattern", "stroke-width": what === "dot" ? 5 : 2.2, "stroke-linecap": "round" }));
    defs.append(pattern);
  }
  return defs;
}

let clips = 0;

/** Draw a piece of a panel: every face it may show, each hidden until the eye sees it.
 * @param {Panel} panel @param {Piece} piece @param {Vec} at where the panel's lowest corner is now
 * @param {string} prefix of the patterns @returns {Painted} */
export function painted(panel, piece, at, prefix) {
  const group = /** @type {SVGGElement} */ (made("g", { class: "piece", "data-n": piece.thing, "data-panel": panel.id }));
  /** @type {Face[]} */
  const faces = [];
  for (let axis = 0; axis < 3; axis++) {
    for (const high of [false, true]) {
      if (piece.seams & ((high ? 2 : 1) << (2 * axis))) continue; // made by cutting: it lies against what enters
      const { node, tint } = face(panel, piece, at, axis, high, prefix);
      group.append(node);
      faces.push({ axis, high, node, tint, seen: false, put: "" });
    }
  }
  return { group, faces };
}

/** @param {Panel} panel @param {Piece} piece @param {Vec} at @param {number} axis @param {boolean} high @param {string} prefix */
function face(panel, piece, at, axis, high, prefix) {
  const [j, k] = [0, 1, 2].filter((n) => n !== axis);
  const [a0, a1, b0, b1] = [piece.low[j] - at[j], piece.high[j] - at[j], piece.low[k] - at[k], piece.high[k] - at[k]];
  const area = `M${a0} ${b0}H${a1}V${b1}H${a0}z`;
  const node = /** @type {SVGGElement} */ (made("g", { class: "face", display: "none" }));
  const tint = made("path", { d: area });
  node.append(tint, made("path", { class: "hatched", d: area, fill: `url(#${prefix}-${panel.hatch})` }));
  const cuts = panel.cuts[`${high ? "+" : "-"}${WAYS[axis]}`];
  if (cuts) {
    const cut = made("path", { class: "cut", d: cuts });
    if (piece.seams) {
      const name = `${prefix}-clip-${++clips}`;
      const clip = made("clipPath", { id: name });
      clip.append(made("path", { d: area }));
      cut.setAttribute("clip-path", `url(#${name})`);
      node.append(clip);
    }
    node.append(cut);
  }
  node.append(made("path", { class: "rim", d: rim(piece.seams, j, k, [a0, a1, b0, b1]) }));
  return { node, tint };
}

/** The edges of a face that are the panel's own, not made by cutting.
 * @param {number} seams @param {number} j @param {number} k @param {number[]} corners */
function rim(seams, j, k, [a0, a1, b0, b1]) {
  if (!seams) return `M${a0} ${b0}H${a1}V${b1}H${a0}z`;
  const own = (/** @type {number} */ axis, /** @type {boolean} */ high) => !(seams & ((high ? 2 : 1) << (2 * axis)));
  return [
    own(k, false) ? `M${a0} ${b0}H${a1}` : "", own(k, true) ? `M${a0} ${b1}H${a1}` : "",
    own(j, false) ? `M${a0} ${b0}V${b1}` : "", own(j, true) ? `M${a1} ${b0}V${b1}` : "",
  ].join("");
}

/** Set how light the faces are: lit from above the maker, as the work lies.
 * @param {Painted} drawn @param {string} tint @param {Vec} up the way of the case that points up
 * @param {Vec} away the one that points away from the maker */
export function shade(drawn, tint, up, away) {
  for (const { axis, high, tint: node } of drawn.faces) {
    const sign = high ? 1 : -1;
    const level = sign * up[axis] > 0.5 ? 0 : Math.abs(away[axis]) > 0.5 ? 1 : 2;
    node.setAttribute("class", `tint ${tint}-${level}`);
  }
}

/** Put a piece where the eye sees it; only what has changed is written.
 * @param {Painted} drawn @param {Vec} low of the whole panel @param {Piece} piece @param {Eye} eye
 * @param {Frame} frame @param {string[]} planes what is common to all faces across each axis: see `planes` */
export function place(drawn, low, piece, eye, frame, planes) {
  for (const face of drawn.faces) {
    const { axis, high } = face, toward = eye.toward[axis];
    const seen = high ? toward > SEEN : toward < -SEEN;
    if (seen !== face.seen) {
      face.seen = seen;
      if (seen) face.node.removeAttribute("display");
      else face.node.setAttribute("display", "none");
    }
    if (!seen) continue;
    const corner = /** @type {Vec} */ ([low[0], low[1], low[2]]);
    corner[axis] = high ? piece.high[axis] : piece.low[axis];
    const [x, y] = on(corner, eye, frame);
    const put = `${planes[axis]}${Math.round(x * 100) / 100} ${Math.round(y * 100) / 100})`;
    if (put === face.put) continue;
    face.put = put;
    face.node.setAttribute("transform", put);
  }
}

/** How the faces across each axis lie in the picture: a matrix, but for where it begins.
 * @param {Eye} eye @param {Frame} frame @returns {string[]} */
export function planes({ right, up }, { scale: s }) {
  return [0, 1, 2].map((axis) => {
    const j = axis === 0 ? 1 : 0, k = axis === 2 ? 1 : 2;
    return `matrix(${n(s * right[j])} ${n(-s * up[j])} ${n(s * right[k])} ${n(-s * up[k])} `;
  });
}

/** Where a place of the case lies in the picture (px).
 * @param {Vec} p @param {Eye} eye @param {Frame} frame @returns {[number, number]} */
export function on(p, eye, { x, y, scale, middle }) {
  const a = p[0] - middle[0], b = p[1] - middle[1], c = p[2] - middle[2];
  return [
    x + scale * (a * eye.right[0] + b * eye.right[1] + c * eye.right[2]),
    y - scale * (a * eye.up[0] + b * eye.up[1] + c * eye.up[2]),
  ];
}

/** @param {number} value */
function n(value) {
  return Math.round(value * 1e4) / 1e4;
}
