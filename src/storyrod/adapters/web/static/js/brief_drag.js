// Borders of the elevation that can be dragged, or moved with the arrow keys: one change once they are let go.

/** @typedef {{at: string, name: string, x: boolean, low: number, high: number, from: number, to: number,
 *   before: number, after: number | null, way: number, least: number}} Border */
/** @typedef {{done: (border: Border, to: number) => Promise<boolean>, tapped: (x: number, y: number) => void}} Hooks */

const SVG = "http://www.w3.org/2000/svg";
const INCH = 25.4;
const STEPS = { mm: [["1 mm", 1], ["5 mm", 5]], in: [['1/16"', INCH / 16], ['1/4"', INCH / 4]] };

/** Lay handles over the borders of a drawing.
 * @param {HTMLElement} figure @param {SVGSVGElement} svg @param {Hooks} hooks */
export function letDrag(figure, svg, hooks) {
  const inch = figure.dataset.unit === "in";
  const borders = /** @type {Border[]} */ (JSON.parse(figure.dataset.partings || "[]"));
  const scale = Number(figure.dataset.scale);
  const label = document.createElement("div");
  label.className = "drag-figure";
  label.hidden = true;
  svg.parentElement?.append(label);
  const coarse = matchMedia("(pointer: coarse)").matches;
  for (const border of borders) {
    svg.append(new Handle({ border, scale, inch, svg, label, hooks, thick: coarse ? 34 : 18 }).rect);
  }
  if (borders.length) offerSteps(figure, inch);
}

/** @param {boolean} inch */
function stepNow(inch) {
  const steps = inch ? STEPS.in : STEPS.mm;
  const kept = Number(localStorage.getItem("storyrod-step") ?? 1);
  return Number((steps[kept] || steps[1])[1]);
}

/** @param {HTMLElement} figure @param {boolean} inch */
function offerSteps(figure, inch) {
  const steps = inch ? STEPS.in : STEPS.mm;
  const kept = Number(localStorage.getItem("storyrod-step") ?? 1);
  const box = document.createElement("span");
  box.className = "drag-steps";
  box.setAttribute("role", "group");
  box.setAttribute("aria-label", "Step of a dragged border");
  box.append("Borders move by ");
  steps.forEach(([words], n) => {
    const label = document.createElement("label");
    const radio = Object.assign(document.createElement("input"), { type: "radio", name: "drag-step", checked: n === kept, id: `drag-step-${n}` });
    radio.addEventListener("change", () => localStorage.setItem("storyrod-step", String(n)));
    label.append(radio, ` ${words}`);
    box.append(label);
  });
  figure.querySelector("figcaption")?.append(" ", box);
}

class Handle {
  /** @param {{border: Border, scale: number, inch: boolean, svg: SVGSVGElement, label: HTMLElement, hooks: Hooks, thick: number}} told */
  constructor(told) {
    Object.assign(this, told);
    this.border = told.border;
    this.scale = told.scale;
    this.inch = told.inch;
    this.svg = told.svg;
    this.label = told.label;
    this.hooks = told.hooks;
    this.value = told.border.before;
    this.start = null;
    this.waiting = 0;
    this.rect = this.drawn(told.thick);
  }

  /** @param {number} thick pixels */
  drawn(thick) {
    const b = this.border;
    const room = b.after === null ? Infinity : Math.min(b.before, b.after) * 0.5;
    const broad = Math.max(b.high - b.low, Math.min(thick * this.scale, b.high - b.low + room));
    const start = (b.low + b.high) / 2 - broad / 2;
    const rect = document.createElementNS(SVG, "rect");
    const place = b.x ? { x: start, y: b.from, width: broad, height: b.to - b.from } : { x: b.from, y: start, width: b.to - b.from, height: broad };
    for (const [name, value] of Object.entries(place)) rect.setAttribute(name, String(value));
    rect.setAttribute("class", `parting${b.x ? " along-x" : ""}`);
    rect.setAttribute("tabindex", "0");
    rect.setAttribute("role", "slider");
    rect.setAttribute("aria-label", b.after === null ? `Border: ${b.name}` : `Border ${b.name}`);
    rect.setAttribute("aria-orientation", b.x ? "horizontal" : "vertical");
    rect.setAttribute("aria-valuemin", String(b.least));
    rect.setAttribute("aria-valuemax", String(Math.round(this.most())));
    rect.setAttribute("data-at", b.at);
    rect.addEventListener("pointerdown", (e) => this.take(e));
    rect.addEventListener("pointermove", (e) => this.move(e));
    rect.addEventListener("pointerup", (e) => this.letGo(e));
    rect.addEventListener("pointercancel", () => this.reset());
    rect.addEventListener("keydown", (e) => this.key(e));
    rect.addEventListener("blur", () => this.send());
    rect.addEventListener("click", (e) => e.stopPropagation());
    // The touch-action of a shape inside a drawing is not heeded: without this the finger scrolls the page instead.
    rect.addEventListener("touchstart", (e) => { if (e.touches.length === 1) e.preventDefault(); }, { passive: false });
    this.tell(rect);
    return rect;
  }

  most() {
    return this.border.after === null ? 5000 : this.border.before + this.border.after - this.border.least;
  }

  /** @param {SVGRectElement} rect */
  tell(rect) {
    rect.setAttribute("aria-valuenow", String(Math.round(this.value * 10) / 10));
    rect.setAttribute("aria-valuetext", this.words());
  }

  words() {
    const b = this.border;
    const own = shown(this.value, this.inch);
    return b.after === null ? own : `${own} | ${shown(b.before + b.after - this.value, this.inch)}`;
  }

  /** @param {PointerEvent} event */
  take(event) {
    if (event.button !== 0) return;
    this.rect.setPointerCapture(event.pointerId);
    this.start = { x: event.clientX, y: event.clientY, moved: false };
  }

  /** @param {PointerEvent} event */
  move(event) {
    if (!this.start) return;
    const px = this.border.x ? event.clientX - this.start.x : event.clientY - this.start.y;
    if (!this.start.moved && Math.abs(px) < 4) return;
    this.start.moved = true;
    const step = stepNow(this.inch);
    this.set(Math.round((this.border.before + px * this.scale * this.border.way) / step) * step);
    this.show(event.clientX, event.clientY);
  }

  /** @param {PointerEvent} event */
  letGo(event) {
    const { start } = this;
    this.start = null;
    this.label.hidden = true;
    if (!start) return;
    if (start.moved) this.send();
    else {
      this.rect.setAttribute("pointer-events", "none");
      this.hooks.tapped(event.clientX, event.clientY);
      this.rect.removeAttribute("pointer-events");
    }
  }

  /** @param {number} value */
  set(value) {
    this.value = Math.min(Math.max(value, this.border.least), this.most());
    const by = (this.value - this.border.before) * this.border.way;
    this.rect.setAttribute("transform", this.border.x ? `translate(${by} 0)` : `translate(0 ${by})`);
    this.rect.classList.add("dragged");
    this.tell(this.rect);
  }

  /** @param {number} x @param {number} y */
  show(x, y) {
    const box = /** @type {HTMLElement} */ (this.svg.parentElement).getBoundingClientRect();
    this.label.textContent = this.words();
    this.label.hidden = false;
    // A style set by script is no inline style of the page, and is allowed.
    this.label.style.left = `${Math.min(Math.max(x - box.left + 16, 0), box.width - this.label.offsetWidth)}px`;
    this.label.style.top = `${Math.max(y - box.top - 44, 0)}px`;
  }

  /** @param {KeyboardEvent} event */
  key(event) {
    /** @type {Record<string, number>} */
    const ways = this.border.x ? { ArrowRight: 1, ArrowLeft: -1 } : { ArrowDown: 1, ArrowUp: -1 };
    const way = ways[event.key];
    if (way) {
      event.preventDefault();
      const step = stepNow(this.inch) * (event.shiftKey ? 10 : 1);
      const to = this.value + way * this.border.way * step;
      this.set(Math.round(to / step) * step);
      const box = this.rect.getBoundingClientRect();
      this.show(box.left + box.width / 2, box.top + box.height / 2);
      clearTimeout(this.waiting);
      this.waiting = window.setTimeout(() => this.send(), 700);
    } else if (event.key === "Enter") this.send();
    else if (event.key === "Escape") this.reset();
  }

  send() {
    clearTimeout(this.waiting);
    this.label.hidden = true;
    if (Math.abs(this.value - this.border.before) < 0.01) return;
    const to = this.value;
    this.value = this.border.before; // sent once
    this.hooks.done(this.border, to).then((made) => { if (!made) this.reset(); });
  }

  reset() {
    clearTimeout(this.waiting);
    this.start = null;
    this.label.hidden = true;
    this.set(this.border.before);
    this.rect.classList.remove("dragged");
  }
}

/** @param {number} mm @param {boolean} inch @returns {string} */
function shown(mm, inch) {
  if (!inch) return String(Math.round(mm * 10) / 10);
  const parts = Math.round((mm / INCH) * 32);
  let [above, below] = [parts % 32, 32];
  while (above && above % 2 === 0) [above, below] = [above / 2, below / 2];
  const whole = Math.floor(parts / 32);
  return `${whole || !above ? whole : ""}${above ? `${whole ? " " : ""}${above}/${below}` : ""}"`;
}
