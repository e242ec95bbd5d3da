// The bench: one card in view, ticks with a thumb, what is left and the clock always in the same place.
import { Clock, face } from "./bench-clock.js";
import { key, Store } from "./bench-store.js";
import { keepAwake, openAgain } from "./bench-tablet.js";
import { WholeCard } from "./bench-whole.js";
import { say } from "./exchange.js";
import { listen } from "./live.js";

/** @typedef {[name: string, content: string, digest: string, copies: number, key: string]} Thing */
/** @typedef {{box: HTMLDetailsElement, copies: number, copy: number, buttons: HTMLButtonElement[], chips: HTMLButtonElement[], counts: (number | undefined)[]}} Group */
/** @typedef {{id: string, title: string, box: HTMLElement, groups: Group[], whole: WholeCard | null}} Card */

const bench = /** @type {HTMLElement} */ (document.getElementById("bench"));
const job = bench.dataset.job || "";
/** @type {{plan: string, seq: number, first: number, words: import("./bench-store.js").SentWord[], things: Record<string, Thing>}} */
const data = JSON.parse(/** @type {HTMLElement} */ (document.getElementById("bench-data")).textContent || "{}");
const el = (/** @type {string} */ id) => /** @type {HTMLElement} */ (document.getElementById(id));
const choice = /** @type {HTMLSelectElement} */ (el("card-choice"));
const clockButton = /** @type {HTMLButtonElement} */ (el("clock-button"));

const store = new Store(job, data, (changed) => soon(changed));
store.replanned = () => { el("planned-anew").hidden = false; };
const clock = new Clock(store, data.plan, (words) => say(words, 30));

/** @type {Card[]} */
const cards = [...bench.querySelectorAll(".bench-card")].map((box) => ({
  id: box.getAttribute("data-card") || "",
  title: box.getAttribute("data-title") || "",
  box: /** @type {HTMLElement} */ (box),
  whole: null,
  groups: [...box.querySelectorAll(".group")].map((g) => ({
    box: /** @type {HTMLDetailsElement} */ (g),
    copies: Number(g.getAttribute("data-copies")),
    copy: 1,
    buttons: /** @type {HTMLButtonElement[]} */ ([...g.querySelectorAll("button.tick")]),
    chips: [],
    counts: [],
  })),
}));
let current = /** @type {Card} */ (cards.find((c) => c.id === new URLSearchParams(location.search).get("card")) || cards.find((c) => c.id === bench.dataset.chosen) || cards[0]);
/** @type {{panel: string, copy: number} | null} */
let touched = null;
/** @type {Map<string, boolean>} */
const made = new Map();
let online = true;

// What is done ------------------------------------------------------------------------------------------------------

/** @param {string} thing @param {number} copy @returns {boolean} */
function isDone(thing, copy) {
  const k = key(thing, copy);
  const known = made.get(k);
  if (known !== undefined) return known;
  const word = store.word(thing, copy);
  const done = word !== null && word.done && (word.digest === null || word.digest === data.things[thing][2]);
  made.set(k, done);
  return done;
}

/** @type {Map<string, Group>} */
const groupOf = new Map();
for (const card of cards) for (const g of card.groups) for (const b of g.buttons) groupOf.set(b.value, g);

/** @param {Group} g @param {number} copy @returns {number} */
function doneIn(g, copy) {
  return (g.counts[copy] ??= g.buttons.filter((b) => isDone(b.value, copy)).length);
}

/** Forget what was reckoned of words that changed. @param {string[] | null} changed */
function forget(changed) {
  if (changed === null) {
    made.clear();
    for (const g of groupOf.values()) g.counts = [];
    return;
  }
  for (const k of changed) {
    made.delete(k);
    const gap = k.indexOf(" ");
    const g = groupOf.get(k.slice(gap + 1));
    if (g) g.counts[Number(k.slice(0, gap))] = undefined;
  }
}
/** @param {Group} g @returns {number[]} */
const copiesOf = (g) => Array.from({ length: g.copies }, (_, i) => i + 1);
/** @param {Group} g @returns {boolean} */
const groupDone = (g) => copiesOf(g).every((c) => doneIn(g, c) === g.buttons.length);
/** @param {Card} card @returns {[done: number, whole: number]} */
function count(card) {
  let done = 0, whole = 0;
  for (const g of card.groups) {
    whole += g.copies * g.buttons.length;
    for (const c of copiesOf(g)) done += doneIn(g, c);
  }
  return [done, whole];
}

/** @type {Map<string, string>} */
const panelNames = new Map();
for (const card of cards) for (const g of card.groups) for (const b of g.buttons) {
  if (b.value.startsWith("panel ")) panelNames.set(b.dataset.panel || "", b.querySelector(".label")?.textContent || "");
}
/** @type {Map<string, string[]>} */
const byPanel = new Map();
for (const card of cards) for (const g of card.groups) for (const b of g.buttons) {
  const panel = b.dataset.panel || "";
  if (panel) byPanel.set(panel, [...(byPanel.get(panel) || []), b.value]);
}

// Drawing it --------------------------------------------------------------------------------------------------------

let planned = false;
/** @param {string[] | null} changed */
function soon(changed) {
  forget(changed);
  if (planned) return;
  planned = true;
  queueMicrotask(() => { planned = false; paint(); });
}

function paint() {
  paintCard(current);
  let done = 0, whole = 0;
  const open = [];
  for (const card of cards) {
    const [d, w] = count(card);
    done += d;
    whole += w;
    if (d < w) open.push({ card, left: w - d });
    const option = [...choice.options].find((o) => o.value === card.id);
    if (option) option.text = `${/^S\d/.test(card.id) ? card.id : "Assembly"} (${d} of ${w}): ${card.title}`;
  }
  el("left-all").textContent = `${done} of ${whole}`;
  el("left-here").textContent = here();
  paintEnd(open, whole);
  paintSending();
  paintAside();
  paintClock();
}

/** @returns {string} */
function here() {
  const group = current.groups.find((g) => g.box.open && !groupDone(g)) || current.groups.find((g) => g.box.open);
  const first = group?.buttons.find((b) => !isDone(b.value, group.copy)) || group?.buttons[0];
  const panel = touched?.panel || first?.dataset.panel || "";
  const copy = touched?.copy || group?.copy || 1;
  if (!panel || !byPanel.has(panel)) {
    const [d, w] = count(current);
    return `${d} of ${w} on this card, `;
  }
  const things = byPanel.get(panel) || [];
  const done = things.filter((t) => isDone(t, copy)).length;
  const which = data.things[things[0]][3] > 1 ? `, copy ${copy}` : "";
  return `${done} of ${things.length} on ${panelNames.get(panel) || "this panel"}${which}, `;
}

/** @param {Card} card */
function paintCard(card) {
  for (const g of card.groups) {
    for (const b of g.buttons) {
      const done = isDone(b.value, g.copy);
      const word = store.word(b.value, g.copy);
      b.setAttribute("aria-pressed", String(done));
      const state = /** @type {HTMLElement} */ (b.querySelector(".state"));
      const otherwise = word && word.done && !done;
      state.textContent = otherwise ? "done otherwise, by an earlier plan" : !done ? "" : word?.waits ? "done, waits" : word?.who ? `done, ${word.who}` : "done";
    }
    const done = copiesOf(g).reduce((n, c) => n + doneIn(g, c), 0);
    const whole = g.copies * g.buttons.length;
    const counted = /** @type {HTMLElement} */ (g.box.querySelector(".group-count"));
    counted.textContent = done === whole ? "all done" : `${done} of ${whole}`;
    g.box.classList.toggle("all-done", done === whole);
    for (const [i, chip] of g.chips.entries()) {
      const n = doneIn(g, i + 1);
      chip.setAttribute("aria-pressed", String(g.copy === i + 1));
      chip.textContent = `copy ${i + 1}: ${n === g.buttons.length ? "done" : `${n} of ${g.buttons.length}`}`;
    }
    const all = /** @type {HTMLButtonElement | null} */ (g.box.querySelector("button.all"));
    if (all) {
      const left = g.buttons.length - doneIn(g, g.copy);
      all.hidden = left === 0;
      all.textContent = left === g.buttons.length ? `Tick all ${left} of them` : left === 1 ? "Tick the last one" : `Tick the other ${left}`;
    }
  }
  card.whole?.paint();
  const [done, whole] = count(card);
  const end = /** @type {HTMLElement} */ (card.box.querySelector(".card-end"));
  end.hidden = done < whole;
  end.textContent = done < whole ? "" : `Nothing missed on this card: ${whole} of ${whole}.`;
}

/** @param {{card: Card, left: number}[]} open @param {number} whole */
function paintEnd(open, whole) {
  const end = el("nothing-missed");
  const last = cards[cards.length - 1] === current;
  end.hidden = open.length > 0 && !last;
  const title = /** @type {HTMLElement} */ (end.querySelector("h2"));
  const words = el("nothing-missed-words");
  if (open.length === 0) {
    title.textContent = "Nothing missed";
    const kinds = new Map([["panel", "panels cut"], ["cut", "cuts made"], ["joint", "joints closed"]]);
    const told = [...kinds].map(([kind, name]) => {
      const n = Object.entries(data.things).filter(([id]) => id.startsWith(`${kind} `)).reduce((sum, [, t]) => sum + t[3], 0);
      return n ? `${n} ${name}` : "";
    }).filter(Boolean);
    words.textContent = `All ${whole} are ticked, among them ${told.join(", ")}.`;
    return;
  }
  title.textContent = "Still open";
  words.replaceChildren(...open.flatMap(({ card, left }, i) => {
    const link = document.createElement("a");
    link.href = `?card=${encodeURIComponent(card.id)}`;
    link.dataset.card = card.id;
    link.textContent = `${/^S\d/.test(card.id) ? card.id : card.title}: ${left}`;
    return i ? [", ", link] : [link];
  }));
}

function paintSending() {
  const n = store.ticks.size;
  const ticks = n === 1 ? "1 tick waits" : `${n} ticks wait`;
  const place = el("sending");
  let words = "All ticks are kept.";
  if (store.standing === "gone" && n) words = `${ticks}: the page was closed to this device, or the job is gone. Nothing is lost here.`;
  else if (n && store.standing === "waiting") words = `${ticks} to be sent: ${store.held ? "the log cannot be written now" : "the server is away"}. Go on; they are kept here.`;
  else if (n) words = `${ticks} to be sent.`;
  else if (store.standing === "gone") words = "The page was closed to this device.";
  else if (!online) words = "The server is away. Go on: ticks are kept here.";
  if (store.aside.size) words += ` ${store.aside.size} not kept: see below.`;
  if (!store.keeps) words += " This browser keeps nothing when the page is closed.";
  if (place.textContent !== words) place.textContent = words;
  place.classList.toggle("away", Boolean(n) || !online || store.standing !== "sent");
}

/** Show what the server did not keep, each with its reason, until it is dismissed by hand or sent again. */
function paintAside() {
  const place = el("set-aside");
  place.hidden = store.aside.size === 0;
  const list = /** @type {HTMLElement} */ (place.querySelector("ul"));
  if (list.dataset.shown === [...store.aside.keys()].join()) return;
  list.dataset.shown = [...store.aside.keys()].join();
  list.replaceChildren(...[...store.aside.values()].map(({ uid, item, words }) => {
    const line = document.createElement("li");
    const name = "name" in item ? `${item.name}, ${item.done ? "ticked" : "tick taken back"}` : `Time at ${item.card}`;
    line.append(`${name}: ${words} `);
    for (const [title, act] of /** @type {[string, () => void][]} */ ([["Send again", () => store.sendAgain(uid)], ["Dismiss", () => store.dismiss(uid)]])) {
      const button = document.createElement("button");
      button.type = "button";
      button.textContent = title;
      button.setAttribute("aria-label", `${title}: ${name}`);
      button.addEventListener("click", act);
      line.append(button, " ");
    }
    return line;
  }));
}

function paintClock() {
  el("clock-face").textContent = face(clock.on(current.id));
  const runs = clock.running !== null && clock.running.card === current.id;
  el("clock").classList.toggle("runs", runs);
  const [done, whole] = count(current);
  clockButton.textContent = runs ? "Pause the clock" : clock.on(current.id) > 0 && done < whole ? "Go on" : "Start the clock";
}

// Ticking -----------------------------------------------------------------------------------------------------------

let lastTap = { value: "", at: 0 };

/** @param {Card} card @param {Group} g @param {HTMLButtonElement[]} buttons @param {boolean} done */
function tick(card, g, buttons, done) {
  const copy = g.copy;
  const fresh = buttons.filter((b) => isDone(b.value, copy) !== done);
  if (!fresh.length) return;
  touched = { panel: fresh[fresh.length - 1].dataset.panel || "", copy };
  store.add(fresh.map((b) => {
    const [name, content, , , key] = data.things[b.value];
    return { thing: b.value, name, content, key, copy, done, version: data.plan };
  }));
  const things = fresh.map((b) => /** @type {[string, number]} */ ([b.value, copy]));
  const [made_, whole] = count(card);
  if (done) clock.ticked(card.id, things, made_ === whole);
  else { clock.taken(things); say(`${data.things[fresh[0].value][0]}: not done after all.`); }
  paint();
  if (done) onward(card, g);
}

/** Tick things of a card at once, or take them back. @param {Card} card @param {import("./bench-whole.js").Open[]} things @param {boolean} done */
function tickMany(card, things, done) {
  store.add(things.map(({ value, copy }) => {
    const [name, content, , , key] = data.things[value];
    return { thing: value, name, content, key, copy, done, version: data.plan };
  }));
  const pairs = things.map(({ value, copy }) => /** @type {[string, number]} */ ([value, copy]));
  const [made_, whole] = count(card);
  if (done) clock.ticked(card.id, pairs, made_ === whole);
  else { clock.taken(pairs); say(`${things.length} are taken back.`); }
  touched = null;
  paint();
}

/** @param {Card} card @returns {WholeCard} */
function wholeOf(card) {
  return new WholeCard(card.box, {
    open: () => card.groups.flatMap((g) => copiesOf(g).flatMap((copy) => g.buttons.filter((b) => !isDone(b.value, copy)).map((b) => ({ value: b.value, copy })))),
    panelOf: (thing) => panelNames.get(groupOf.get(thing)?.buttons.find((b) => b.value === thing)?.dataset.panel || "") || "",
    tick: (things, done) => tickMany(card, things, done),
    oneByOne: () => { const g = card.groups.find((x) => !groupDone(x)); if (g) { show(g); paint(); focusOn(g); } },
  });
}

/** Open what comes next, when a copy or a placing is done. @param {Card} card @param {Group} g */
function onward(card, g) {
  if (doneIn(g, g.copy) < g.buttons.length) return;
  const copy = copiesOf(g).find((c) => doneIn(g, c) < g.buttons.length);
  if (copy) { g.copy = copy; touched = null; paint(); focusOn(g); return; }
  const next = card.groups.find((other) => !groupDone(other));
  if (!next) { el("card-next").focus(); return; }
  touched = null;
  g.box.open = card.groups.length < 2;
  show(next);
  paint();
  focusOn(next);
}

/** @param {Group} g */
function show(g) {
  g.box.open = true;
  g.copy = copiesOf(g).find((c) => doneIn(g, c) < g.buttons.length) || 1;
}

/** @param {Group} g */
function focusOn(g) {
  const button = g.buttons.find((b) => !isDone(b.value, g.copy)) || g.buttons[0];
  g.box.scrollIntoView({ block: "nearest" });
  button.focus({ preventScroll: false });
}

bench.addEventListener("submit", (event) => {
  const button = event instanceof SubmitEvent && event.submitter instanceof HTMLButtonElement ? event.submitter : null;
  if (!button || !button.matches(".tick")) return;
  event.preventDefault();
  const now = Date.now();
  if (lastTap.value === button.value && now - lastTap.at < 500) return; // a dusty finger taps twice
  lastTap = { value: button.value, at: now };
  const g = current.groups.find((x) => x.buttons.includes(button));
  if (g) tick(current, g, [button], !isDone(button.value, g.copy));
});

bench.addEventListener("click", (event) => {
  const target = event.target instanceof Element ? event.target : null;
  const all = target?.closest("button.all");
  const g = all && current.groups.find((x) => x.box.contains(all));
  if (g) return tick(current, g, g.buttons, true);
  const chip = target?.closest("[data-copy]");
  const of = chip && current.groups.find((x) => x.box.contains(chip));
  if (chip && of) {
    of.copy = Number(chip.getAttribute("data-copy"));
    touched = null;
    return paint();
  }
  const way = target?.closest("[data-go]");
  if (way) {
    event.preventDefault();
    return go(cards[cards.indexOf(current) + Number(way.getAttribute("data-go"))]);
  }
  const link = target?.closest("#nothing-missed-words a");
  if (link instanceof HTMLElement) {
    event.preventDefault();
    go(cards.find((c) => c.id === link.dataset.card));
  }
});

// Cards -------------------------------------------------------------------------------------------------------------

/** @param {Card | undefined} card @param {boolean} [quiet] */
function go(card, quiet = false) {
  if (!card) return;
  if (card !== current && clock.running) clock.leave();
  if (card !== current) current.whole?.leave();
  current = card;
  document.dispatchEvent(new CustomEvent("storyrod:card", { detail: card.id }));
  touched = null;
  for (const c of cards) c.box.hidden = c !== card;
  choice.value = card.id;
  const at = cards.indexOf(card);
  el("card-before").setAttribute("aria-disabled", String(at === 0));
  el("card-next").setAttribute("aria-disabled", String(at === cards.length - 1));
  history.replaceState(null, "", `?card=${encodeURIComponent(card.id)}`);
  const next = card.groups.find((g) => !groupDone(g));
  if (card.groups.length > 1) for (const g of card.groups) g.box.open = g === next;
  for (const g of card.groups) g.copy = copiesOf(g).find((c) => doneIn(g, c) < g.buttons.length) || 1;
  if (next) show(next);
  paint();
  if (quiet) return;
  window.scrollTo({ top: 0 });
  /** @type {HTMLElement} */ (card.box.querySelector("h2")).focus({ preventScroll: true });
}

choice.addEventListener("change", () => go(cards.find((c) => c.id === choice.value)));
clockButton.addEventListener("click", () => {
  if (clock.running && clock.running.card === current.id) clock.stop();
  else clock.start(current.id, count(current)[0] === 0);
  paintClock();
});

for (const card of cards) if (card.groups.length) card.whole = wholeOf(card);
for (const card of cards) for (const g of card.groups) {
  const place = g.box.querySelector(".copies");
  if (place) {
    g.chips = copiesOf(g).map((c) => {
      const chip = document.createElement("button");
      chip.type = "button";
      chip.dataset.copy = String(c);
      return chip;
    });
    place.append(...g.chips);
  }
  const all = /** @type {HTMLButtonElement | null} */ (g.box.querySelector("button.all"));
  if (all) all.hidden = false;
}
choice.hidden = false;
clockButton.hidden = false;
if (clock.running && !cards.some((c) => c.id === clock.running?.card)) clock.stop(clock.running.last);
go(current, true);
window.setInterval(() => { clock.rest(); paintClock(); }, 1000);

// The others, and the server ----------------------------------------------------------------------------------------

listen(job, (word) => {
  if (word.kind !== "tick") return;
  const told = /** @type {{seq: number, first: number, since: number, words: import("./bench-store.js").SentWord[]}} */ (/** @type {unknown} */ (word));
  if (store.hear(told)) store.catchUp();
}, (open) => {
  online = open;
  if (open) store.catchUp().then(() => store.flush());
  paintSending();
  paintAside();
});
document.addEventListener("storyrod:changed", (event) => {
  event.preventDefault(); // told here, and until it is done: the cards in view are of the plan before
  store.replanned();
});
addEventListener("online", () => store.flush());
document.addEventListener("visibilitychange", () => { if (!document.hidden) store.catchUp(); });
store.flush();

// This tablet -------------------------------------------------------------------------------------------------------

const who = /** @type {HTMLInputElement} */ (el("who"));
who.value = store.read("who") || "";
who.addEventListener("change", () => store.write("who", who.value.trim()));
const left = /** @type {HTMLInputElement} */ (el("left-hand"));
left.checked = store.read("left-hand") === true;
const lay = () => bench.classList.toggle("left-handed", left.checked);
left.addEventListener("change", () => { store.write("left-hand", left.checked); lay(); });
lay();
keepAwake(/** @type {HTMLInputElement} */ (el("awake")), el("awake-words"));
openAgain(el("away-words"));
