// The elevation by keys: one tab stop, arrow keys from thing to thing, a ring around the one that has the focus.

const SVG = "http://www.w3.org/2000/svg";
const THINGS = ".opening, .panel, .size";
const KINDS = [["opening", "Opening"], ["panel", "Panel"], ["size", "Size"]];
const WAYS = /** @type {Record<string, [number, number]>} */ ({
  ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1],
});

/** Make what a drawing shows workable by keys; what is chosen, or else the first opening, is where the tab key enters.
 * @param {SVGSVGElement} svg */
export function byKeys(svg) {
  svg.setAttribute("role", "group");
  svg.setAttribute("aria-label", `${svg.querySelector("title")?.textContent || ""}; arrow keys go from one thing to the next`);
  const things = thingsOf(svg);
  for (const thing of things) {
    const kind = KINDS.find(([name]) => thing.classList.contains(name)) || KINDS[0];
    thing.setAttribute("role", "button");
    thing.setAttribute("aria-label", `${kind[1]}: ${thing.querySelector("title")?.textContent || ""}`);
    thing.setAttribute("aria-pressed", String(thing.classList.contains("chosen")));
  }
  const first = things.find((t) => t.classList.contains("chosen")) || things.find((t) => t.classList.contains("opening")) || things[0];
  if (first) enterAt(svg, first);
  svg.addEventListener("keydown", (event) => { go(svg, event); });
  svg.addEventListener("focusin", (event) => {
    const thing = event.target instanceof Element ? event.target.closest(THINGS) : null;
    if (thing) enterAt(svg, thing);
    ring(svg, thing);
  });
  svg.addEventListener("focusout", () => { ring(svg, null); });
}

/** @param {SVGSVGElement} svg @returns {Element[]} */
function thingsOf(svg) {
  return [...svg.querySelectorAll(THINGS)];
}

/** Have the tab key enter the drawing at a thing.
 * @param {SVGSVGElement} svg @param {Element} thing */
function enterAt(svg, thing) {
  for (const other of thingsOf(svg)) other.setAttribute("tabindex", other === thing ? "0" : "-1");
}

/** @param {SVGSVGElement} svg @param {KeyboardEvent} event */
function go(svg, event) {
  const here = event.target instanceof Element ? event.target.closest(THINGS) : null;
  if (!here || event.ctrlKey || event.altKey || event.metaKey) return;
  const things = thingsOf(svg);
  const at = things.indexOf(here);
  /** @type {Element | undefined} */
  let next;
  if (WAYS[event.key]) next = nearest(things, here, WAYS[event.key]);
  else if (event.key === "Home") next = things[0];
  else if (event.key === "End") next = things[things.length - 1];
  else if (event.key === "PageDown") next = things[(at + 1) % things.length];
  else if (event.key === "PageUp") next = things[(at - 1 + things.length) % things.length];
  else return;
  event.preventDefault();
  if (next instanceof SVGElement) next.focus();
}

/** The nearest thing whose middle lies that way; what begins where this ends is nearer than what only reaches farther,
 * and what this stands before, such as the back, is the farthest.
 * @param {Element[]} things @param {Element} here @param {[number, number]} way */
function nearest(things, here, way) {
  const from = here.getBoundingClientRect();
  let best = Infinity;
  /** @type {Element | undefined} */
  let found;
  for (const thing of things) {
    if (thing === here) continue;
    const to = thing.getBoundingClientRect();
    const dx = (to.left + to.right - from.left - from.right) / 2;
    const dy = (to.top + to.bottom - from.top - from.bottom) / 2;
    const along = dx * way[0] + dy * way[1];
    if (along < 1) continue;
    const apart = way[0] ? Math.max(to.top - from.bottom, from.top - to.bottom, 0) : Math.max(to.left - from.right, from.left - to.right, 0);
    const askew = way[0] ? Math.abs(dy) : Math.abs(dx);
    const behind = to.left - 1 <= from.left && to.right + 1 >= from.right && to.top - 1 <= from.top && to.bottom + 1 >= from.bottom;
    const past = way[0] ? (way[0] > 0 ? to.left - from.right : from.left - to.right) : (way[1] > 0 ? to.top - from.bottom : from.top - to.bottom);
    const far = along + 4 * apart + askew + (past < -4 ? 1e4 : 0) + (behind ? 1e5 : 0);
    if (far < best) [best, found] = [far, thing];
  }
  return found;
}

/** Draw a ring around a thing above all others: its own outline would be covered by what is drawn after it.
 * @param {SVGSVGElement} svg @param {Element | null} thing */
function ring(svg, thing) {
  for (const old of svg.querySelectorAll(".key-ring")) old.remove();
  const toDrawing = svg.getScreenCTM()?.inverse();
  if (!thing?.matches(":focus-visible") || !toDrawing) return;
  const box = thing.getBoundingClientRect();
  const low = new DOMPoint(box.left - 3, box.top - 3).matrixTransform(toDrawing);
  const high = new DOMPoint(box.right + 3, box.bottom + 3).matrixTransform(toDrawing);
  for (const kind of ["key-ring under", "key-ring"]) {
    const rect = document.createElementNS(SVG, "rect");
    const place = { x: low.x, y: low.y, width: high.x - low.x, height: high.y - low.y, class: kind };
    for (const [name, value] of Object.entries(place)) rect.setAttribute(name, String(value));
    svg.append(rect);
  }
}
