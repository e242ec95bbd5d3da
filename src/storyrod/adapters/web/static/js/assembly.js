// Assembly: step by step; what comes in a step is shown off its place, and brought home along its way.
import { ask, say } from "./exchange.js";
import { drawArrow, way } from "./assembly_arrow.js";
import { fillGlue } from "./glue.js";
import { again } from "./model_again.js";
import { buttons, inHand } from "./model_hand.js";
import { hull, ModelView, moved } from "./model_view.js";

/** @typedef {import("./model_eye.js").Vec} Vec */
/** @typedef {{number: number, kind: string, moving: string[], standing: string[], bears: string[],
 *   opened: {id: string, low: Vec, high: Vec}[], legs: Vec[], lies: import("./model_eye.js").Lies,
 *   lay: import("./model_eye.js").Lies, joints: string[], slide: string}} Step */

const byId = (/** @type {string} */ id) => document.getElementById(id);
/** @type {ModelView | null} */
let view = null;
/** @type {Step[]} */
let steps = [];
let at = 0;
/** How far what comes has come: 0 off its place, 1 home. */
let share = 0;
let busy = false;

async function begin() {
  fillGlue();
  const box = byId("model"), stage = byId("model-stage");
  if (!box || !stage) { view = null; return; }
  const { status, answer } = await ask(box.dataset.address || "");
  if (status !== 200) { if (answer.said) say(answer.said); return; }
  const kept = view;
  steps = /** @type {any} */ (answer).steps;
  view = new ModelView(stage, /** @type {any} */ (answer));
  view.svg.classList.add("stepping");
  if (kept) Object.assign(view, { turn: kept.turn, tilt: kept.tilt, zoom: kept.zoom });
  view.over = () => over();
  byId("model-drawn")?.toggleAttribute("hidden", true);
  box.hidden = false;
  inHand(view, (id) => tell(id), (id) => { if (view && view.hovered !== id) { view.hovered = id; tell(id); view.draw(); } });
  const looks = /** @type {HTMLElement} */ (byId("model-ways"));
  looks.hidden = false;
  buttons(looks, view);
  wire();
  show(Math.max(0, steps.findIndex((s) => String(s.number) === box.dataset.step)));
}

function wire() {
  const move = byId("step-move");
  if (move) move.onclick = () => { if (!busy) bring(share < 1 ? 1 : 0); };
  on("step-back", () => go(at - 1));
  on("step-next", () => go(at + 1));
  byId("step-list")?.addEventListener("click", (event) => {
    const link = event.target instanceof Element ? event.target.closest("[data-step]") : null;
    if (!link || plainly(event)) return;
    event.preventDefault();
    show(Number(link.getAttribute("data-step")) - 1);
    byId("model-stage")?.scrollIntoView({ block: "nearest" });
  });
}

/** @param {string} id @param {() => void} act */
function on(id, act) {
  byId(id)?.addEventListener("click", (event) => {
    if (plainly(event)) return;
    event.preventDefault();
    act();
  });
}

/** Whether the browser is asked for a new tab or window. @param {Event} event */
function plainly(event) {
  const mouse = /** @type {MouseEvent} */ (event);
  return mouse.ctrlKey || mouse.metaKey || mouse.shiftKey;
}

document.addEventListener("keydown", (event) => {
  if (event.altKey || event.ctrlKey || event.metaKey || !view) return;
  if (event.target instanceof HTMLElement && event.target.closest("input, textarea, select, .model-stage, .wide")) return;
  const by = { ArrowRight: 1, ArrowLeft: -1 }[event.key];
  if (!by) return;
  event.preventDefault();
  go(at + by);
});

/** To the step before or after; what this step brings goes home first. @param {number} to */
async function go(to) {
  if (busy || to < 0 || to >= steps.length) {
    if (to >= steps.length && share < 1 && !busy) await bring(1);
    return;
  }
  if (to > at && share < 1) await bring(1);
  show(to);
}

/** Bring what comes in this step home, or off again. @param {number} to */
async function bring(to) {
  if (!view || !steps[at].legs.length) return;
  busy = true;
  const from = share;
  await view.pass((s) => { share = from + (to - from) * s; }, true);
  busy = false;
  ways();
}

/** Show a step: how the work lies, what stands, what comes. @param {number} nth */
function show(nth) {
  if (!view) return;
  at = nth;
  const step = steps[nth], model = view;
  share = step.legs.length ? 0 : 1;
  const moving = new Set(step.moving), standing = new Set(step.standing);
  const opened = new Map(step.opened.map((o) => [o.id, o]));
  model.bears = new Set(step.bears);
  const legs = way(step.legs, model.panels.filter((p) => moving.has(p.id) || standing.has(p.id)));
  model.placing = (panel) => {
    if (moving.has(panel.id)) {
      const off = legs.off(share);
      return { low: moved(panel.low, off), high: moved(panel.high, off), moves: step.kind !== "turn" };
    }
    const open = opened.get(panel.id);
    if (open) return open;
    return standing.has(panel.id) ? panel : null;
  };
  const there = model.panels.filter((p) => moving.has(p.id) || standing.has(p.id));
  const apart = there.filter((p) => moving.has(p.id)).map((p) => ({ low: moved(p.low, legs.off(0)), high: moved(p.high, legs.off(0)) }));
  model.keep = hull([...there, ...step.opened, ...apart]);
  if (step.kind === "turn") model.lies = step.lay;
  model.layOut();
  model.lookFrom(model.turn, model.tilt, step.lies);
  words(step);
  ways();
}

/** The arrow of the movement, as long as something is still to come home. */
function over() {
  if (!view || share >= 1) return;
  const step = steps[at];
  const moving = view.parts.filter((p) => p.moves);
  if (moving.length) drawArrow(view, hull(moving), way(step.legs, view.parts.map((p) => p.panel)).from(share), step.slide);
}

/** @param {Step} step */
function words(step) {
  for (const told of document.querySelectorAll(".step-told")) told.toggleAttribute("hidden", told.getAttribute("data-step") !== String(step.number));
  for (const link of document.querySelectorAll("#step-list [data-step]")) {
    if (link.getAttribute("data-step") === String(step.number)) link.setAttribute("aria-current", "step");
    else link.removeAttribute("aria-current");
  }
  tell("");
  const address = new URL(location.href);
  address.searchParams.set("case", byId("model")?.dataset.case || "");
  address.searchParams.set("step", String(step.number));
  history.replaceState(null, "", address);
}

/** What the buttons can do now. */
function ways() {
  byId("step-back")?.setAttribute("aria-disabled", String(at === 0));
  byId("step-next")?.setAttribute("aria-disabled", String(at === steps.length - 1));
  const move = byId("step-move");
  if (!move) return;
  move.hidden = !steps[at].legs.length;
  move.textContent = share < 1 ? "Bring it home" : "Pull it off again";
}

/** Say which panel is under the finger, or else how the work lies. @param {string} id */
function tell(id) {
  const said = byId("model-said"), panel = view?.byId.get(id);
  const lies = byId(`told-${steps[at]?.number}`)?.dataset.lies || "";
  if (said) said.textContent = panel ? `${panel.mark} ${panel.name}: ${panel.size}.` : lies;
}

again(["assembly-matter"], begin);
begin();
