// Which box is painted before which: painter's order from a graph of upright boxes, right for any way of looking.
//
// Boxes let into each other are made apart first: what takes in loses the room of what enters. Of two boxes that are
// apart and whose pictures overlap, one lies wholly before the other along an axis, which settles it for every ray. A
// ring of boxes, each before the next, is broken by cutting one of them at a face of another.

/** @typedef {import("./model_eye.js").Vec} Vec */
/** @typedef {import("./model_eye.js").Eye} Eye */
/** @typedef {{thing: number, low: Vec, high: Vec, seams: number}} Piece a box, or a part of one; bit 2·axis of `seams`
 *   says that its low face along the axis was made by cutting, bit 2·axis + 1 its high face */

const TOUCH = 1e-4;
const LET_IN = 1e-2;
const SEEN = 1e-9;

/** Return boxes made apart: of two that overlap, the one that takes in is cut round the one that enters.
 * @param {{low: Vec, high: Vec}[]} boxes
 * @param {(a: number, b: number) => boolean} takesIn whether box `a` takes in box `b`
 * @returns {Piece[]} */
export function madeApart(boxes, takesIn) {
  /** @type {Piece[][]} */
  const parts = boxes.map((b, thing) => [{ thing, low: b.low, high: b.high, seams: 0 }]);
  for (let a = 0; a < boxes.length; a++) {
    for (let b = a + 1; b < boxes.length; b++) {
      if (!overlap(boxes[a], boxes[b])) continue;
      const [outer, inner] = takesIn(a, b) ? [a, b] : [b, a];
      parts[outer] = parts[outer].flatMap((p) => (overlap(p, boxes[inner]) ? cutRound(p, boxes[inner]) : [p]));
    }
  }
  return parts.flat();
}

/** @param {{low: Vec, high: Vec}} a @param {{low: Vec, high: Vec}} b */
function overlap(a, b) {
  for (let k = 0; k < 3; k++) {
    if (Math.min(a.high[k], b.high[k]) - Math.max(a.low[k], b.low[k]) <= LET_IN) return false;
  }
  return true;
}

/** What is left of a piece without the room of a box: up to six pieces.
 * @param {Piece} piece @param {{low: Vec, high: Vec}} hole @returns {Piece[]} */
function cutRound(piece, hole) {
  const out = [];
  let rest = piece;
  // Along the axis on which least of the piece is left first: the large parts stay whole.
  const axes = [0, 1, 2].sort((j, k) => left(piece, hole, j) - left(piece, hole, k));
  for (const k of axes) {
    if (hole.low[k] > rest.low[k] + TOUCH) {
      const [first, second] = parted(rest, k, hole.low[k]);
      out.push(first);
      rest = second;
    }
    if (hole.high[k] < rest.high[k] - TOUCH) {
      const [first, second] = parted(rest, k, hole.high[k]);
      out.push(second);
      rest = first;
    }
  }
  return out;
}

/** @param {Piece} piece @param {{low: Vec, high: Vec}} hole @param {number} k */
function left(piece, hole, k) {
  return Math.max(0, hole.low[k] - piece.low[k]) + Math.max(0, piece.high[k] - hole.high[k]);
}

/** A piece cut in two across an axis.
 * @param {Piece} piece @param {number} k @param {number} at @returns {[Piece, Piece]} */
function parted(piece, k, at) {
  const high = /** @type {Vec} */ ([...piece.high]), low = /** @type {Vec} */ ([...piece.low]);
  high[k] = at;
  low[k] = at;
  return [
    { ...piece, high, seams: piece.seams | (2 << (2 * k)) },
    { ...piece, low, seams: piece.seams | (1 << (2 * k)) },
  ];
}

/** Return the pieces from the farthest to the nearest, cut further where they stand in a ring.
 * @param {Piece[]} pieces @param {Eye} eye
 * @returns {{pieces: Piece[], order: number[]}} pieces, the same as given where none had to be cut, and their order */
export function ordered(pieces, eye) {
  const most = 4 * pieces.length + 4;
  for (let n = 0; n < most; n++) {
    const { order, stuck } = sorted(pieces, eye);
    if (!stuck.length) return { pieces, order };
    const cut = cutOne(pieces, stuck);
    if (!cut) break;
    pieces = cut;
  }
  const near = pieces.map((p) => nearness(p, eye));
  return { pieces, order: pieces.map((_, n) => n).sort((a, b) => near[a] - near[b]) };
}

/** @param {Piece[]} pieces @param {Eye} eye @returns {{order: number[], stuck: number[]}} */
function sorted(pieces, eye) {
  const count = pieces.length;
  const across = waysAcross(eye), ways = across.length;
  const spans = spansOf(pieces, across);
  /** @type {number[][]} */
  const nearer = pieces.map(() => []);
  const waits = new Int32Array(count);
  for (let a = 0; a < count; a++) {
    for (let b = a + 1; b < count; b++) {
      if (!pictures(spans, a, b, ways)) continue;
      const [far, near] = isBehind(pieces[a], pieces[b], eye) ? [a, b] : [b, a];
      nearer[far].push(near);
      waits[near] += 1;
    }
  }
  const near = pieces.map((p) => nearness(p, eye));
  /** @type {number[]} */
  const ready = [];
  for (let n = 0; n < count; n++) if (!waits[n]) ready.push(n);
  const order = [];
  while (ready.length) {
    let best = 0;
    for (let k = 1; k < ready.length; k++) if (near[ready[k]] < near[ready[best]]) best = k;
    const n = ready[best];
    ready[best] = ready[ready.length - 1];
    ready.pop();
    order.push(n);
    for (const m of nearer[n]) if (!--waits[m]) ready.push(m);
  }
  const stuck = [];
  for (let n = 0; n < count; n++) if (waits[n]) stuck.push(n);
  return { order, stuck };
}

/** Ways in the picture across the pictures of the three axes, as shares of x, y and z: the picture of a box is a
 * hexagon with edges along those, so two pictures overlap exactly where their extents across each do.
 * @param {Eye} eye @returns {Vec[]} */
export function waysAcross(eye) {
  const ways = [];
  for (let k = 0; k < 3; k++) {
    const x = eye.right[k], y = eye.up[k], long = Math.hypot(x, y);
    if (long < 1e-6) continue; // looked along: the two others make a rectangle
    ways.push(/** @type {Vec} */ ([0, 1, 2].map((j) => (eye.up[j] * x - eye.right[j] * y) / long)));
  }
  return ways;
}

/** The extents of pieces across ways, two figures for each.
 * @param {{low: Vec, high: Vec}[]} pieces @param {Vec[]} across @returns {Float64Array} */
export function spansOf(pieces, across) {
  const spans = new Float64Array(pieces.length * across.length * 2);
  let at = 0;
  for (const { low, high } of pieces) {
    for (const way of across) {
      let least = 0, most = 0;
      for (let j = 0; j < 3; j++) {
        const a = way[j] * low[j], b = way[j] * high[j];
        if (a < b) { least += a; most += b; } else { least += b; most += a; }
      }
      spans[at++] = least;
      spans[at++] = most;
    }
  }
  return spans;
}

/** Whether the pictures of two pieces overlap.
 * @param {Float64Array} spans @param {number} a @param {number} b @param {number} ways */
function pictures(spans, a, b, ways) {
  let i = a * ways * 2, j = b * ways * 2;
  for (let k = 0; k < ways; k++, i += 2, j += 2) {
    if (spans[i] >= spans[j + 1] - TOUCH || spans[j] >= spans[i + 1] - TOUCH) return false;
  }
  return true;
}

/** Whether `a` is painted before `b`: by the axis along which they stand farthest apart.
 * @param {Piece} a @param {Piece} b @param {Eye} eye */
function isBehind(a, b, eye) {
  let best = -Infinity, behind = true;
  for (let k = 0; k < 3; k++) {
    const toward = eye.toward[k];
    if (Math.abs(toward) < SEEN) continue;
    const above = b.low[k] - a.high[k], below = a.low[k] - b.high[k];
    if (above > best) { best = above; behind = toward > 0; }
    if (below > best) { best = below; behind = toward < 0; }
  }
  return behind;
}

/** @param {Piece} p @param {Eye} eye */
function nearness(p, eye) {
  let sum = 0;
  for (let k = 0; k < 3; k++) sum += eye.toward[k] * (p.low[k] + p.high[k]);
  return sum;
}

/** Cut the largest piece of a ring at a face of another; null where no face runs through any of them.
 * @param {Piece[]} pieces @param {number[]} stuck @returns {Piece[] | null} */
function cutOne(pieces, stuck) {
  const volume = (/** @type {Piece} */ p) => (p.high[0] - p.low[0]) * (p.high[1] - p.low[1]) * (p.high[2] - p.low[2]);
  for (const n of [...stuck].sort((a, b) => volume(pieces[b]) - volume(pieces[a]))) {
    for (const m of stuck) {
      for (let k = 0; m !== n && k < 3; k++) {
        for (const at of [pieces[m].low[k], pieces[m].high[k]]) {
          if (pieces[n].low[k] + 1e-3 < at && at < pieces[n].high[k] - 1e-3) {
            return [...pieces.slice(0, n), ...parted(pieces[n], k, at), ...pieces.slice(n + 1)];
          }
        }
      }
    }
  }
  return null;
}
