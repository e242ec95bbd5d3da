// The brief: tap a thing on the elevation, change it beside; every change is drawn at once.
import { letDrag } from "./brief_drag.js";
import { byKeys } from "./brief_keys.js";
import { change, released, reshape, settled, take, viewedAs } from "./change.js";
import { ask, say } from "./exchange.js";

const brief = /** @type {HTMLElement} */ (document.getElementById("brief"));
const title = /** @type {HTMLElement} */ (document.getElementById("job-title"));
const job = `/job/${encodeURIComponent(title.dataset.job || "")}`;
let room = "";

const view = () => ({ case: brief.dataset.case, show: brief.dataset.show, at: brief.dataset.at, room });
viewedAs(view);

let asked = 0;
let taken = 0;

/** The page as it is looked at now, from the server. An answer that was overtaken, by a later one or by a choice made
 * meanwhile, is left alone: it would show again what was looked at before. */
async function refresh() {
  await settled();
  const number = ++asked;
  const looked = view();
  try {
    const { status, answer } = await ask(`${job}/brief/pieces?${new URLSearchParams(/** @type {Record<string, string>} */ (view()))}`);
    await released();
    if (number < taken || looked.case !== brief.dataset.case || looked.show !== brief.dataset.show || looked.at !== brief.dataset.at) return;
    taken = number;
    if (status === 200) take(answer);
    else say(answer.said || "The job cannot be shown any more: it may have been renamed or deleted.", 20);
  } catch {
    say("The server is away. Start it again; nothing is lost.", 20);
  }
}

/** Choose an opening by its path, or a panel or size by its id.
 * @param {string} at @param {boolean} [byKey] */
async function choose(at, byKey = false) {
  brief.dataset.at = at;
  remember();
  await refresh();
  const chosen = document.getElementById("brief-chosen");
  const group = chosen?.dataset.group ? document.getElementById(`group-${chosen.dataset.group}`) : null;
  if (group instanceof HTMLDetailsElement) group.open = true;
  const place = group || chosen;
  const top = place?.getBoundingClientRect().top ?? 0;
  if (top < 0 || top > window.innerHeight - 240) place?.scrollIntoView({ block: "nearest" });
  if (!byKey) return;
  cameFrom = at;
  for (const first of ["[data-field]:checked", "[data-field]:not([type='radio'])", "summary"]) {
    const field = /** @type {HTMLElement | null} */ (place?.querySelector(first));
    if (field) return field.focus();
  }
}

function remember() {
  const told = new URLSearchParams();
  if (brief.dataset.case && brief.dataset.case !== "0") told.set("case", brief.dataset.case);
  if (brief.dataset.show) told.set("show", brief.dataset.show);
  if (brief.dataset.at) told.set("at", brief.dataset.at);
  history.replaceState(null, "", `${location.pathname}${told.size ? `?${told}` : ""}`);
}

// The drawing ------------------------------------------------------------------------------------------------------------

let lastInDrawing = "";
let cameFrom = "";

function decorate() {
  const figure = document.getElementById("brief-figure");
  const svg = figure?.querySelector(".front svg");
  if (!figure || !(svg instanceof SVGSVGElement)) return;
  for (const drawing of figure.querySelectorAll("svg")) byKeys(drawing);
  letDrag(figure, svg, {
    done: async (border, to) => Boolean(await reshape({ do: border.after === null ? "resize" : "part", at: border.at, to })),
    tapped: (x, y) => {
      const under = document.elementsFromPoint(x, y).map((e) => e.closest(".panel, .opening")).find((g) => g);
      if (under) choose(idOf(under));
    },
  });
  if (lastInDrawing && document.activeElement === document.body) {
    /** @type {SVGElement | null} */ (figure.querySelector(lastInDrawing))?.focus({ preventScroll: true });
  }
}

/** @param {Element} thing the id of a panel or size; for an opening the path at which it is written. */
function idOf(thing) {
  const id = thing.getAttribute("data-id") || "";
  const parts = id.split(".inside")[1];
  if (!thing.classList.contains("opening") || parts === undefined) return id;
  return paths().get(id) || id;
}

/** @returns {Map<string, string>} the path of every opening by its id on the drawing */
function paths() {
  const told = document.getElementById("brief-figure")?.dataset.openings || "{}";
  return new Map(Object.entries(JSON.parse(told)));
}

document.addEventListener("focusin", (event) => {
  const thing = event.target instanceof Element ? event.target.closest("#brief-figure [data-id], #brief-figure [data-at]") : null;
  if (!thing) {
    if (event.target !== document.body) lastInDrawing = "";
    return;
  }
  const name = thing.hasAttribute("data-at") ? "data-at" : "data-id";
  lastInDrawing = `[${name}="${CSS.escape(thing.getAttribute(name) || "")}"]`;
});
document.addEventListener("storyrod:put", (event) => {
  if (event.target instanceof Element && event.target.id === "brief-figure") decorate();
});
brief.addEventListener("click", (event) => {
  const target = event.target instanceof Element ? event.target : null;
  const thing = target?.closest("#brief-figure .opening, #brief-figure .panel, #brief-figure .size");
  if (thing) choose(idOf(thing));
  else if (target?.closest("#brief-figure .sheet")) {
    const size = document.querySelector("#brief-figure .size")?.getAttribute("data-id") || "";
    choose(size.split(".")[0]); // the outside: the whole case
  }
});
brief.addEventListener("keydown", (event) => {
  if (event.key !== "Enter" && event.key !== " ") return;
  const thing = event.target instanceof Element ? event.target.closest("#brief-figure .opening, #brief-figure .panel, #brief-figure .size") : null;
  if (!thing) return;
  event.preventDefault();
  choose(idOf(thing), true);
});

// Links and buttons ------------------------------------------------------------------------------------------------------

document.addEventListener("click", (event) => {
  const link = event.target instanceof Element ? event.target.closest("a[data-at], a[data-case], a[data-show]") : null;
  if (!(link instanceof HTMLAnchorElement) || event.ctrlKey || event.metaKey || event.shiftKey) return;
  event.preventDefault();
  const byKey = event.detail === 0;
  if (link.dataset.case !== undefined) {
    brief.dataset.case = link.dataset.case;
    choose("");
  } else if (link.dataset.show !== undefined) {
    brief.dataset.show = link.dataset.show;
    remember();
    refresh();
  } else choose(link.dataset.at || "", byKey);
});
document.addEventListener("submit", (event) => {
  const form = event.target;
  if (!(form instanceof HTMLFormElement) || !form.matches("[data-fields], [data-act]")) return;
  event.preventDefault();
  const button = event.submitter;
  if (!(button instanceof HTMLButtonElement) || button.name !== "do") return;
  /** @type {Record<string, unknown>} */
  const sent = {};
  for (const [name, value] of new FormData(form)) if (/^[a-z]+$/.test(name)) sent[name] = value;
  act(button.value, sent);
});

/** @param {string} what @param {Record<string, unknown>} sent */
async function act(what, sent) {
  const before = brief.dataset.at;
  const answer = await reshape({ ...sent, do: what });
  if (!answer || brief.dataset.at !== before) return; // something else was chosen meanwhile
  if (what === "add-case" || what === "copy-case") {
    brief.dataset.case = String(document.querySelectorAll("#brief-cases [data-case]").length - 1);
    await choose("");
  } else if (what === "remove-case") {
    brief.dataset.case = "0";
    await choose("");
  } else if (typeof answer.at === "string" && answer.at !== brief.dataset.at) {
    brief.dataset.at = answer.at;
    remember();
  }
}

// Fields -----------------------------------------------------------------------------------------------------------------

/** @param {EventTarget | null} target @returns {HTMLInputElement | HTMLSelectElement | HTMLTextAreaElement | null} */
function fieldOf(target) {
  const is = target instanceof HTMLInputElement || target instanceof HTMLSelectElement || target instanceof HTMLTextAreaElement;
  return is && target.matches("[data-field]") ? target : null;
}

document.addEventListener("change", (event) => {
  const field = fieldOf(event.target);
  if (!field) return;
  const value = field instanceof HTMLInputElement && field.type === "checkbox" ? field.checked : field.value;
  if (field.getAttribute("data-sent") === String(value)) return; // sent by Enter; the browser tells it once more
  field.setAttribute("data-sent", String(value));
  change([{ path: field.dataset.field || "", value }]).then((answer) => {
    if (!answer) field.removeAttribute("data-sent"); // it may be sent again
  });
});
document.addEventListener("keydown", (event) => {
  const field = fieldOf(event.target);
  if (!(field instanceof HTMLInputElement) || field.type === "checkbox") return;
  if (event.key === "Enter") {
    event.preventDefault(); // the form's first button is not meant
    if (field.value !== field.defaultValue) field.dispatchEvent(new Event("change", { bubbles: true }));
  } else if (event.key === "Escape" && field.value !== field.defaultValue) {
    event.preventDefault();
    field.value = field.defaultValue;
    field.dispatchEvent(new Event("input", { bubbles: true }));
  }
});

document.addEventListener("keydown", (event) => {
  // Escape leads back from the fields to what was opened by keys; from a field that was typed in, at the second press.
  if (event.key !== "Escape" || event.defaultPrevented || !cameFrom) return;
  const from = event.target instanceof Element ? event.target.closest(".brief-aside") : null;
  if (!from) return;
  const things = [...document.querySelectorAll("#brief-figure .front :is(.opening, .panel, .size)")];
  const thing = things.find((t) => idOf(t) === cameFrom);
  if (thing instanceof SVGElement) thing.focus();
});

let asking = 0;
document.addEventListener("input", (event) => {
  const field = fieldOf(event.target);
  if (!field || !["length", "size"].includes(field.dataset.kind || "")) return;
  field.removeAttribute("data-sent");
  clearTimeout(asking);
  asking = window.setTimeout(async () => {
    const { answer } = await ask(`${job}/brief/understood?${new URLSearchParams({ path: field.dataset.field || "", value: field.value })}`);
    const told = document.getElementById(`${field.id}-told`);
    if (told) told.textContent = String(answer.told || answer.wrong || "");
  }, 120);
});

// What happens elsewhere ---------------------------------------------------------------------------------------------------

document.addEventListener("storyrod:changed", (event) => {
  event.preventDefault();
  settled().then(() => {
    const word = /** @type {CustomEvent} */ (event).detail;
    if (word.version === title.dataset.version) return;
    say("This job was changed somewhere else; here it is as it is now.");
    refresh();
  });
});
document.addEventListener("storyrod:stale", () => { refresh(); });
// The room there is ------------------------------------------------------------------------------------------------------

function measure() {
  const figure = document.getElementById("brief-figure");
  if (!figure) return;
  const wide = Math.round(figure.clientWidth - 30);
  const top = figure.getBoundingClientRect().top + window.scrollY;
  const below = window.innerWidth < 1000 ? window.innerHeight * 0.42 : 70; // a tablet shows the fields below it
  const high = Math.round(Math.max(window.innerHeight - Math.min(top, 260) - below, 420));
  const before = (document.cookie.match(/storyrod-room=(\d+)x(\d+)/) || []).slice(1).map(Number);
  room = `${wide}x${high}`;
  if (Math.abs((before[0] || 660) - wide) < 30 && Math.abs((before[1] || 620) - high) < 60) return;
  document.cookie = `storyrod-room=${room}; path=/; max-age=31536000; samesite=strict`;
  refresh();
}
let resizing = 0;
window.addEventListener("resize", () => {
  clearTimeout(resizing);
  resizing = window.setTimeout(measure, 200);
});

decorate();
measure();
if (location.hash.startsWith("#f-")) document.getElementById(location.hash.slice(1))?.focus();
