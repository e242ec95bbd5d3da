// Set-out: marks that can be tapped, brought nearer, and followed to their mates.
import { again } from "./model_again.js";
import { say } from "./exchange.js";
import { zooming } from "./set_out_zoom.js";

const NEAR = 28;
const byId = (/** @type {string} */ id) => document.getElementById(id);
let chosen = "";

function begin() {
  const box = byId("set-out-drawn"), told = byId("mark-told");
  if (!box || !told) return;
  chosen = document.querySelector("#marks-table tr.chosen")?.getAttribute("data-label") || "";
  zooming(box, /** @type {HTMLElement} */ (byId("set-out-zoom")), () => ring(chosen));
  box.addEventListener("click", (event) => {
    const label = labelAt(event);
    if (label) choose(label);
  });
  byId("marks-table")?.addEventListener("click", follow);
  told.addEventListener("click", follow);
  byId("marks-table")?.addEventListener("keydown", upAndDown);
  rods();
  document.querySelector(".panel-row [aria-current]")?.scrollIntoView({ block: "nearest", inline: "center" });
}

/** A link to a mark of this panel shows it here; one to another panel's goes there.
 * @param {Event} event */
function follow(event) {
  const link = event.target instanceof Element ? event.target.closest("[data-mark]") : null;
  const mouse = /** @type {MouseEvent} */ (event);
  if (!link || mouse.ctrlKey || mouse.metaKey || mouse.shiftKey) return;
  event.preventDefault();
  choose(link.getAttribute("data-mark") || "", Boolean(link.closest("#mark-told")));
}

/** Up and down go from mark to mark in the table. @param {KeyboardEvent} event */
function upAndDown(event) {
  const by = { ArrowDown: 1, ArrowUp: -1 }[event.key];
  const links = [...document.querySelectorAll("#marks-table th [data-mark]")];
  const at = links.indexOf(/** @type {Element} */ (document.activeElement));
  if (!by || at < 0) return;
  event.preventDefault();
  const next = /** @type {HTMLElement | undefined} */ (links[at + by]);
  if (next) { next.focus(); choose(next.getAttribute("data-mark") || ""); }
}

/** The mark nearest to where the drawing was tapped, or whose number was.
 * @param {MouseEvent} event @returns {string} */
function labelAt(event) {
  const target = event.target instanceof Element ? event.target : null;
  const number = target?.closest("text.number")?.textContent?.trim() || "";
  if (/^\d+$/.test(number)) return row(`data-number="${number}"`)?.dataset.label || "";
  let best = NEAR, found = "";
  for (const mark of document.querySelectorAll("#set-out-drawn g.mark[data-id]")) {
    const b = mark.getBoundingClientRect();
    const dx = Math.max(b.left - event.clientX, 0, event.clientX - b.right), dy = Math.max(b.top - event.clientY, 0, event.clientY - b.bottom);
    const far = Math.hypot(dx, dy) + Math.min(b.width, b.height) / 1e3; // of two that hold the place, the smaller
    if (far < best) { best = far; found = mark.getAttribute("data-id") || ""; }
  }
  return found ? row(`data-feature="${CSS.escape(found)}"`)?.dataset.label || "" : "";
}

/** @param {string} by @returns {HTMLElement | null} */
function row(by) {
  return document.querySelector(`#marks-table tr[${by}]`);
}

/** Show a mark: ringed in the drawing, told beside it, its mate lit on the other panel.
 * @param {string} label @param {boolean} [refocus] whether what held the focus is being replaced */
async function choose(label, refocus = false) {
  chosen = label;
  ring(label);
  for (const tr of document.querySelectorAll("#marks-table tr[data-label]")) {
    const own = tr.getAttribute("data-label") === label;
    tr.classList.toggle("chosen", own);
    tr.querySelector("th a")?.toggleAttribute("aria-current", own);
  }
  const address = new URL(location.href);
  address.searchParams.set("mark", label);
  address.searchParams.delete("panel");
  address.hash = "";
  history.replaceState(null, "", address);
  const told = byId("mark-told");
  try {
    const response = await fetch(`${told?.dataset.address}?mark=${encodeURIComponent(label)}`, { headers: { Accept: "text/html" } });
    if (!response.ok) throw new Error(String(response.status));
    const html = await response.text();
    if (chosen !== label || !told) return;
    told.innerHTML = html;
    if (refocus) /** @type {HTMLElement | null} */ (told.querySelector("[data-mark]"))?.focus({ preventScroll: true });
    line(told);
  } catch {
    say("The server is away: nothing can be shown of this mark now.", 20);
  }
}

/** Where what is told of a mark stands below the drawing, its figures are said at the drawing's foot: nothing moves under
 * the finger. @param {HTMLElement} told */
function line(told) {
  const place = byId("mark-line");
  if (!place) return;
  const is = (/** @type {string} */ what) => [...told.querySelectorAll(what)].map((e) => (e.textContent || "").trim());
  const figures = is(".places dt").map((dt, n) => `${dt} ${is(".places dd")[n]}`);
  place.hidden = matchMedia("(min-width: 1160px)").matches || !figures.length;
  const more = document.createElement("a");
  more.href = "#mark-told";
  more.textContent = "All about it";
  place.replaceChildren(`${is(".mark-name")[0]}. ${figures.join(", ")}. `, more);
}

/** Ring a mark in the drawing, as large on the screen at any scale. @param {string} label */
function ring(label) {
  for (const old of document.querySelectorAll("#set-out-drawn .ring, #set-out-drawn .ring-rim")) old.remove();
  for (const lit of document.querySelectorAll("#set-out-drawn .mark.lit")) lit.classList.remove("lit");
  const feature = label && row(`data-label="${CSS.escape(label)}"`)?.dataset.feature;
  if (!feature) return;
  for (const mark of document.querySelectorAll(`#set-out-drawn g.mark[data-id="${CSS.escape(feature)}"]`)) {
    mark.classList.add("lit");
    const svg = /** @type {SVGSVGElement} */ (mark.closest("svg"));
    const px = svg.viewBox.baseVal.width / Number(svg.getAttribute("width"));
    const box = /** @type {SVGGElement} */ (mark).getBBox(), pad = 6 * px;
    const long = Math.max(box.width, box.height) > 44 * px;
    const middle = { cx: box.x + box.width / 2, cy: box.y + box.height / 2, r: Math.max(13 * px, Math.hypot(box.width, box.height) / 2 + 4 * px) };
    const around = { x: box.x - pad, y: box.y - pad, width: box.width + 2 * pad, height: box.height + 2 * pad, rx: pad };
    for (const [name, wide] of /** @type {[string, number][]} */ ([["ring-rim", 7], ["ring", 3.5]])) {
      const line = document.createElementNS("http://www.w3.org/2000/svg", long ? "rect" : "circle");
      const values = { class: name, ...(long ? around : middle), "stroke-width": wide * px };
      for (const [key, value] of Object.entries(values)) line.setAttribute(key, String(value));
      svg.append(line);
    }
  }
}

/** Whichever rod is asked for, to be looked along. */
function rods() {
  const which = /** @type {HTMLSelectElement | null} */ (byId("rod-shown"));
  which?.addEventListener("change", async () => {
    const strip = byId("rod-strip");
    const response = await fetch(`${which.dataset.address}?gang=${encodeURIComponent(which.value)}`).catch(() => null);
    if (strip && response?.ok) { strip.innerHTML = await response.text(); strip.scrollLeft = 0; }
    else say("This rod cannot be drawn now.", 20);
  });
}

/** An address may end in #A1.12 or #A1 as well. */
function fromHash() {
  const name = decodeURIComponent(location.hash.slice(1));
  if (!/^[\w.-]+$/.test(name) || document.getElementById(name)) return false;
  location.replace(`${location.pathname}?${/\.\d+$/.test(name) ? "mark" : "panel"}=${encodeURIComponent(name)}`);
  return true;
}

if (!fromHash()) {
  again(["set-out-matter"], begin);
  begin();
}
