// The panels' page: the model, the panel that is chosen, the joint that is lit.
import { ask, say } from "./exchange.js";
import { again } from "./model_again.js";
import { buttons, inHand } from "./model_hand.js";
import { ModelView, still } from "./model_view.js";

/** @typedef {import("./model_paint.js").Panel} Panel */

const byId = (/** @type {string} */ id) => document.getElementById(id);
/** @type {ModelView | null} */
let view = null;

async function begin() {
  const box = byId("model"), stage = byId("model-stage");
  if (!box || !stage) { view = null; return; }
  const { status, answer } = await ask(box.dataset.address || "");
  if (status !== 200) {
    if (answer.said) say(answer.said);
    return;
  }
  const kept = view;
  view = new ModelView(stage, /** @type {any} */ (answer));
  if (kept) keep(kept, view);
  byId("model-drawn")?.toggleAttribute("hidden", true);
  box.hidden = false;
  for (const id of ["model-lists", "panel-card"]) byId(id)?.toggleAttribute("hidden", false);
  wire(view, box);
  choose(view.chosen);
  view.layOut();
}

/** @param {ModelView} old @param {ModelView} fresh */
function keep(old, fresh) {
  for (const name of /** @type {const} */ (["turn", "tilt", "zoom", "apart", "cuts", "names", "through", "fronts", "lies"])) Object.assign(fresh, { [name]: old[name] });
  if (fresh.byId.has(old.chosen)) fresh.chosen = old.chosen;
}

/** @param {ModelView} model @param {HTMLElement} box */
function wire(model, box) {
  inHand(model, choose, hover);
  buttons(box, model);
  const slider = /** @type {HTMLInputElement} */ (byId("model-apart"));
  slider.value = String(Math.round(model.apart * 100));
  slider.addEventListener("input", () => { model.apart = Number(slider.value) / 100; model.layOut(); });
  pressed("model-through", model.through, (on) => { model.through = on; model.draw(); });
  pressed("model-fronts", !model.fronts, (on) => { model.fronts = !on; model.layOut(); });
  pressed("model-cuts", model.cuts, (on) => { model.cuts = on; model.draw(); });
  pressed("model-names", model.names, (on) => { model.names = on; model.draw(); });
  lists(model);
}

/** A button that stays pressed. @param {string} id @param {boolean} on @param {(on: boolean) => void} act */
function pressed(id, on, act) {
  const button = byId(id);
  if (!button) return;
  button.setAttribute("aria-pressed", String(on));
  button.addEventListener("click", () => {
    const now = button.getAttribute("aria-pressed") !== "true";
    button.setAttribute("aria-pressed", String(now));
    act(now);
  });
}

/** @param {ModelView} model */
function lists(model) {
  const panels = byId("panel-list"), joints = byId("joint-list"), table = byId("cutting-table");
  const of = (/** @type {Event} */ event, /** @type {string} */ what) => (event.target instanceof Element && event.target.closest(`[data-${what}]`)?.getAttribute(`data-${what}`)) || "";
  panels?.addEventListener("click", (event) => {
    const id = of(event, "panel");
    if (id) { choose(id === model.chosen ? "" : id); inSight(model); }
  });
  for (const list of [panels, table]) {
    list?.addEventListener("pointerover", (event) => hover(of(event, "panel")));
    list?.addEventListener("pointerleave", () => hover(""));
    list?.addEventListener("focusin", (event) => hover(of(event, "panel")));
    list?.addEventListener("focusout", () => hover(""));
  }
  joints?.addEventListener("click", (event) => {
    const id = of(event, "joint");
    if (id) { light(model.lit?.id === id ? "" : id); inSight(model); }
  });
}

/** On a tablet the lists lie below the picture: bring it back. @param {ModelView} model */
function inSight(model) {
  model.stage.scrollIntoView({ block: "nearest", behavior: still() ? "auto" : "smooth" });
}

/** @param {string} id */
function hover(id) {
  if (!view || view.hovered === id) return;
  view.hovered = id;
  const panel = view.byId.get(id) || view.byId.get(view.chosen);
  tell(panel ? `${panel.mark} ${panel.name}: ${panel.size}, ${panel.board}; ${panel.told}.` : "Drag it, or use the arrow keys, to turn it.");
  view.draw();
}

/** @param {string} words */
function tell(words) {
  const said = byId("model-said");
  if (said) said.textContent = words;
}

/** @param {string} id */
function choose(id) {
  if (!view) return;
  view.chosen = id;
  const panel = view.byId.get(id);
  for (const button of document.querySelectorAll("#panel-list button")) button.setAttribute("aria-pressed", String(button.getAttribute("data-panel") === id));
  for (const row of document.querySelectorAll("#cutting-table tr")) row.classList.toggle("chosen", Boolean(id) && row.getAttribute("data-panel") === id);
  card(panel);
  if (panel) tell(`${panel.mark} ${panel.name}: ${panel.size}, ${panel.board}; ${panel.told}.`);
  view.draw();
}

/** What is to be said of a panel, and the way to its set-out. @param {Panel | undefined} panel */
function card(panel) {
  const box = byId("panel-card");
  if (!box || !view) return;
  if (!panel) {
    box.replaceChildren(made("p", "Tap a panel in the picture, or pick one here.", "secondary"));
    return;
  }
  const link = /** @type {HTMLAnchorElement} */ (made("a", "Go to its set-out", "button main"));
  link.href = `${byId("model")?.dataset.setOut}?panel=${encodeURIComponent(panel.id)}`;
  const joints = view.joints.filter((j) => j.receiving === panel.id || j.entering === panel.id);
  const list = made("ul", "", "joints-of");
  for (const j of joints) {
    const item = made("li", "", "");
    const button = made("button", `${j.number}: ${j.words}`, "quiet");
    button.setAttribute("type", "button");
    button.addEventListener("click", () => light(j.id));
    const held = /** @type {HTMLAnchorElement} */ (made("a", `${j.held}: see or change`, ""));
    held.href = `${byId("model")?.dataset.joints}?joint=${encodeURIComponent(j.id)}#joint`;
    item.append(button, held);
    list.append(item);
  }
  box.replaceChildren(
    made("h2", `${panel.mark} ${panel.name}`, ""), made("p", `${panel.size}, ${panel.board}; ${panel.told}.`, ""),
    link, ...(joints.length ? [made("h3", joints.length === 1 ? "Its joint" : "Its joints", ""), list] : []),
  );
}

/** Light a joint: both its panels, and where they meet. @param {string} id */
function light(id) {
  if (!view) return;
  view.lit = view.joints.find((j) => j.id === id) || null;
  for (const button of document.querySelectorAll("#joint-list button")) button.setAttribute("aria-pressed", String(Boolean(id) && button.getAttribute("data-joint") === id));
  if (view.lit) tell(`${view.lit.number}: ${view.lit.words}, ${view.lit.held}.`);
  view.draw();
}

/** @param {string} name @param {string} words @param {string} kind */
function made(name, words, kind) {
  const node = document.createElement(name);
  if (words) node.textContent = words;
  if (kind) node.className = kind;
  return node;
}

again(["panels-matter"], begin);
begin();
