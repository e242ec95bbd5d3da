// The live view of a case: boxes with what is cut in them, turned, pulled apart, seen through, lit.
import { dot, eyeAt, eyeBetween, UPRIGHT } from "./model_eye.js";
import { madeApart, ordered } from "./model_order.js";
import { made, on, painted, patterns, place, planes, shade } from "./model_paint.js";
import { marked } from "./model_marks.js";

/** @typedef {import("./model_eye.js").Vec} Vec */
/** @typedef {import("./model_eye.js").Eye} Eye */
/** @typedef {import("./model_eye.js").Lies} Lies */
/** @typedef {import("./model_paint.js").Panel} Panel */
/** @typedef {import("./model_paint.js").Painted} Painted */
/** @typedef {import("./model_paint.js").Frame} Frame */
/** @typedef {import("./model_order.js").Piece} Piece */
/** @typedef {{id: string, number: string, receiving: string, entering: string, low: Vec, high: Vec, words: string,
 *   held: string}} Joint */
/** @typedef {{panels: Panel[], joints: Joint[], takes: [string, string][]}} Case `takes`: which panel takes in which */
/** @typedef {{panel: Panel, low: Vec, high: Vec, moves: boolean}} Part a panel where it is drawn now */

/** How long a movement takes that explains something; none where the reader prefers none. */
export const MOVE_MS = 250;
const MOST_TILT = 90;
const LEAST_STEADY_TILT = 22;
let views = 0;

/** @returns {boolean} */
export function still() {
  return matchMedia("(prefers-reduced-motion: reduce)").matches;
}

export class ModelView {
  /** @param {HTMLElement} stage what it is drawn in @param {Case} data */
  constructor(stage, data) {
    this.stage = stage;
    this.prefix = `m${++views}`;
    this.turn = 28;
    this.tilt = 22;
    this.zoom = 1;
    this.apart = 0;
    this.cuts = true;
    this.names = true;
    this.through = false;
    this.fronts = true;
    this.chosen = "";
    this.hovered = "";
    /** @type {Joint | null} */
    this.lit = null;
    /** @type {Lies} */
    this.lies = UPRIGHT;
    /** @type {Eye | null} an eye on its way from one to another */
    this.passing = null;
    /** @type {((panel: Panel) => {low: Vec, high: Vec, moves?: boolean} | null) | null} where a panel is, in a step */
    this.placing = null;
    /** @type {Panel[]} */
    this.panels = [];
    /** @type {Joint[]} */
    this.joints = [];
    /** @type {Map<string, Panel>} */
    this.byId = new Map();
    /** @type {Set<string>} who takes in whom: `outer inner` */
    this.taking = new Set();
    /** @type {((view: ModelView) => void) | null} draws over the model */
    this.over = null;
    /** @type {{left: number, right: number, y: number}[]} where what is drawn over leaves no room for marks */
    this.taken = [];
    /** @type {{low: Vec, high: Vec} | null} what must stay in the picture, where it is more than what is shown */
    this.keep = null;
    /** @type {Set<string>} what the work rests on, in a step */
    this.bears = new Set();
    /** @type {Map<string, Painted>} */
    this.pool = new Map();
    /** @type {Part[]} */
    this.parts = [];
    /** @type {Piece[]} */
    this.pieces = [];
    /** @type {Painted[]} */
    this.drawn = [];
    /** @type {number[]} */
    this.order = [];
    this.shown = this.told = "";
    this.frame = 0;
    this.resting = 0;
    this.moving = 0;
    this.take(data);
    this.svg = /** @type {SVGSVGElement} */ (made("svg", { class: "drawing model", "aria-hidden": "true" }));
    this.board = made("g", { class: "pieces" });
    this.above = made("g", { class: "above" });
    this.svg.append(patterns(this.prefix), this.board, this.above);
    stage.append(this.svg);
    this.room = [0, 0];
    this.measure();
    this.watching = new ResizeObserver(() => { if (this.measure()) this.draw(); });
    this.watching.observe(stage);
  }

  /** Take the room of the stage (px); asked for only when it changes, since asking makes the browser lay all out.
   * @returns {boolean} whether it is another than before */
  measure() {
    const wide = this.stage.clientWidth || 640, high = this.stage.clientHeight || 480;
    if (wide === this.room[0] && high === this.room[1]) return false;
    this.room = [wide, high];
    this.svg.setAttribute("viewBox", `0 0 ${wide} ${high}`);
    this.svg.setAttribute("width", String(wide));
    this.svg.setAttribute("height", String(high));
    return true;
  }

  /** Take another case, or the same one as it is now. @param {Case} data */
  take(data) {
    this.panels = data.panels;
    this.joints = data.joints;
    this.byId = new Map(data.panels.map((p) => [p.id, p]));
    this.pool.clear();
    this.taking = new Set(data.takes.map(([outer, inner]) => `${outer} ${inner}`));
    if (!this.byId.has(this.chosen)) this.chosen = "";
    this.hovered = "";
    this.lit = null;
  }

  /** @returns {Eye} */
  get eye() {
    return this.passing || eyeAt(this.turn, this.tilt, this.lies);
  }

  /** Lay everything out anew and draw: after panels came, went or moved. */
  layOut() {
    this.parts = this.panels.flatMap((panel) => this.part(panel));
    const takesIn = (/** @type {number} */ a, /** @type {number} */ b) => this.takesIn(this.parts[a], this.parts[b]);
    this.useOf(madeApart(this.parts, takesIn));
    this.draw();
  }

  /** @param {Panel} panel @returns {Part[]} */
  part(panel) {
    if (this.placing) {
      const at = this.placing(panel);
      return at ? [{ panel, low: at.low, high: at.high, moves: Boolean(at.moves) }] : [];
    }
    if (panel.front && !this.fronts) return [];
    const by = panel.apart, share = this.apart;
    const moved = (/** @type {Vec} */ p) => /** @type {Vec} */ ([p[0] + share * by[0], p[1] + share * by[1], p[2] + share * by[2]]);
    return [{ panel, low: moved(panel.low), high: moved(panel.high), moves: false }];
  }

  /** @param {Part} a @param {Part} b */
  takesIn(a, b) {
    if (this.taking.has(`${a.panel.id} ${b.panel.id}`)) return true;
    if (this.taking.has(`${b.panel.id} ${a.panel.id}`)) return false;
    return size(a) >= size(b);
  }

  /** @param {Piece[]} pieces */
  useOf(pieces) {
    this.pieces = pieces;
    const pool = new Map();
    const [, away, up] = this.lies;
    this.drawn = pieces.map((piece) => {
      const { panel, low } = this.parts[piece.thing];
      const rel = [...piece.low.map((v, k) => v - low[k]), ...piece.high.map((v, k) => v - low[k])];
      const key = `${panel.id} ${piece.seams} ${rel.map((v) => v.toFixed(1))}`;
      const drawn = this.pool.get(key) || painted(panel, piece, low, this.prefix);
      pool.set(key, drawn);
      drawn.group.dataset.n = String(piece.thing);
      shade(drawn, panel.tint, up, away);
      return drawn;
    });
    this.pool = pool;
    this.shown = this.told = "";
  }

  /** Draw at the next frame. */
  draw() {
    if (!this.frame) this.frame = requestAnimationFrame(() => { this.frame = 0; this.drawNow(); });
  }

  /** Draw as the eye sees it now. */
  drawNow() {
    const eye = this.eye, frame = this.framed(eye);
    const found = ordered(this.pieces, eye);
    if (found.pieces !== this.pieces) this.useOf(found.pieces);
    this.order = found.order;
    const common = planes(eye, frame);
    this.pieces.forEach((piece, n) => place(this.drawn[n], this.parts[piece.thing].low, piece, eye, frame, common));
    this.arrange();
    this.said();
    this.above.replaceChildren();
    this.taken = [];
    if (this.over) this.over(this);
    this.highlight(eye, frame);
    clearTimeout(this.resting);
    this.resting = window.setTimeout(() => this.rest(), this.moving ? MOVE_MS : 60);
  }

  /** Put the pieces in their order, moving only those that stand elsewhere. */
  arrange() {
    const order = this.order.join(" ");
    if (order === this.shown) return;
    this.shown = order;
    let next = this.board.firstChild;
    for (const n of this.order) {
      const { group } = this.drawn[n];
      if (group === next) next = next.nextSibling;
      else this.board.insertBefore(group, next);
    }
    while (next) {
      const gone = next;
      next = next.nextSibling;
      gone.remove();
    }
  }

  /** Say by classes what is chosen, moved, or seen through; where that has changed. */
  said() {
    const now = [this.chosen, this.hovered, this.lit?.id, this.through, this.cuts, [...this.bears]].join(" ");
    if (now === this.told) return;
    this.told = now;
    this.pieces.forEach((piece, n) => {
      const { panel, moves } = this.parts[piece.thing];
      const lit = this.lit && (this.lit.receiving === panel.id || this.lit.entering === panel.id);
      const list = this.drawn[n].group.classList;
      list.toggle("chosen", panel.id === this.chosen || panel.id === this.hovered || Boolean(lit));
      list.toggle("moves", moves);
      list.toggle("bears", this.bears.has(panel.id));
      list.toggle("through", this.through && panel.side);
    });
    this.svg.classList.toggle("plain", !this.cuts);
  }

  /** How the picture lies in its frame: it keeps its size while it is turned.
   * @param {Eye} eye @returns {Frame} */
  framed(eye) {
    const [wide, high] = this.room;
    const { low, high: top } = this.keep || hull(this.parts);
    const middle = /** @type {Vec} */ ([0, 1, 2].map((k) => (low[k] + top[k]) / 2));
    const extent = (/** @type {Vec} */ way) => Math.abs(dot(way, [top[0] - low[0], top[1] - low[1], top[2] - low[2]]));
    const [right, away, up] = this.lies;
    const level = Math.hypot(extent(right), extent(away));
    const tilt = (Math.max(LEAST_STEADY_TILT, Math.abs(this.tilt)) * Math.PI) / 180;
    const tall = extent(up) * Math.cos(tilt) + level * Math.sin(tilt);
    const scale = Math.min((wide - 28) / level, (high - 28) / tall) * this.zoom;
    const frame = { x: wide / 2, y: high / 2, scale, middle };
    const about = this.zoom > 1 && this.parts.find((p) => p.panel.id === this.chosen);
    if (about) frame.middle = /** @type {Vec} */ ([0, 1, 2].map((k) => (about.low[k] + about.high[k]) / 2));
    this.at = frame;
    return frame;
  }

  /** The outline of what is chosen, through all that stands before it; the joint that is lit.
   * @param {Eye} eye @param {Frame} frame */
  highlight(eye, frame) {
    for (const id of new Set([this.chosen, this.hovered])) {
      const part = this.parts.find((p) => p.panel.id === id);
      if (part) this.above.append(made("path", { class: "lit", d: skeleton(part, eye, frame) }));
    }
    if (this.lit) {
      const by = this.shiftOf(this.lit.entering);
      const patch = { low: moved(this.lit.low, by), high: moved(this.lit.high, by) };
      this.above.append(made("path", { class: "contact", d: skeleton(patch, eye, frame) }));
    }
  }

  /** How far a panel stands from its place. @param {string} id @returns {Vec} */
  shiftOf(id) {
    const part = this.parts.find((p) => p.panel.id === id);
    return part ? /** @type {Vec} */ ([0, 1, 2].map((k) => part.low[k] - part.panel.low[k])) : [0, 0, 0];
  }

  /** Once nothing moves: the marks of the panels, where they can be seen. */
  rest() {
    if (this.names) this.above.append(...marked(this));
    this.stage.dataset.still = String(Number(this.stage.dataset.still || 0) + 1);
  }

  /** Turn to look another way, by a short movement where it is allowed.
   * @param {number} turn @param {number} tilt @param {Lies} [lies] */
  lookFrom(turn, tilt, lies = this.lies) {
    const from = this.eye;
    this.turn = ((turn % 360) + 360) % 360;
    this.tilt = Math.max(-MOST_TILT, Math.min(MOST_TILT, tilt));
    if (lies !== this.lies) {
      this.lies = lies;
      this.useOf(this.pieces);
    }
    const to = eyeAt(this.turn, this.tilt, this.lies);
    this.pass((share) => { this.passing = share < 1 ? eyeBetween(from, to, share) : null; });
  }

  /** Change something little by little; at once where no motion is wanted.
   * @param {(share: number) => void} change from 0 to 1 @param {boolean} [anew] whether panels move by it
   * @returns {Promise<void>} */
  pass(change, anew = false) {
    cancelAnimationFrame(this.moving);
    const drawn = () => (anew ? this.layOut() : this.draw());
    if (still()) {
      change(1);
      this.moving = 0;
      drawn();
      return Promise.resolve();
    }
    return new Promise((done) => {
      const start = performance.now();
      const tick = (/** @type {number} */ now) => {
        const share = Math.min(1, Math.max(0, (now - start) / MOVE_MS));
        change(share);
        this.moving = share < 1 ? requestAnimationFrame(tick) : 0;
        drawn();
        if (share >= 1) done();
      };
      this.moving = requestAnimationFrame(tick);
    });
  }
}

/** @param {Part} p */
function size(p) {
  return (p.high[0] - p.low[0]) * (p.high[1] - p.low[1]) * (p.high[2] - p.low[2]);
}

/** @param {Vec} p @param {Vec} by @returns {Vec} */
export function moved(p, by) {
  return [p[0] + by[0], p[1] + by[1], p[2] + by[2]];
}

/** @param {{low: Vec, high: Vec}[]} boxes @returns {{low: Vec, high: Vec}} */
export function hull(boxes) {
  if (!boxes.length) return { low: [0, 0, 0], high: [1, 1, 1] };
  const least = (/** @type {number} */ k) => Math.min(...boxes.map((b) => b.low[k]));
  const most = (/** @type {number} */ k) => Math.max(...boxes.map((b) => b.high[k]));
  return { low: [least(0), least(1), least(2)], high: [most(0), most(1), most(2)] };
}

/** All edges of a box, as they lie in the picture; those of its far side too.
 * @param {{low: Vec, high: Vec}} box @param {Eye} eye @param {Frame} frame */
function skeleton({ low, high }, eye, frame) {
  const corner = (/** @type {number} */ n) => on([n & 1 ? high[0] : low[0], n & 2 ? high[1] : low[1], n & 4 ? high[2] : low[2]], eye, frame).map((v) => v.toFixed(1)).join(" ");
  return [[0, 1, 3, 2, 0], [4, 5, 7, 6, 4], [0, 4], [1, 5], [2, 6], [3, 7]].map((way) => `M${way.map(corner).join("L")}`).join("");
}
