// Sheets: stepping through the cuts by button and key, a search that can be watched, and the rack.
import { take } from "./change.js";
import { ask, put, say, send } from "./exchange.js";
import { listen } from "./live.js";

const job = document.getElementById("job-title")?.dataset.job || "";
let asking = 0;
let watching = 0;

/** How wide a drawing may be, in mm of paper: four screen pixels each. */
function wide() {
  const box = document.querySelector("#sheets-one .drawing-box") || document.getElementById("main");
  return Math.floor((box ? box.clientWidth : 760) / 4);
}

/** @param {string} what */
function address(what) {
  const query = new URLSearchParams(location.search);
  query.set("wide", String(wide()));
  query.set("high", String(Math.floor((innerHeight - 300) / 4)));
  return `/job/${encodeURIComponent(job)}/sheets/${what}?${query}`;
}

/** Keep which lists are open while pieces of the page are put anew. @param {() => void} act */
function keepingOpen(act) {
  const before = document.querySelector("#sheets-one details.saw");
  const open = before instanceof HTMLDetailsElement && before.open;
  const way = document.activeElement instanceof HTMLElement ? document.activeElement.dataset.way : undefined;
  act();
  const after = document.querySelector("#sheets-one details.saw");
  if (after instanceof HTMLDetailsElement && before) after.open = open;
  if (way) /** @type {HTMLElement | null} */ (document.querySelector(`#sheets-one [data-way="${way}"]`) || document.querySelector('#sheets-one [data-way="back"]'))?.focus({ preventScroll: true });
}

/** Ask for a piece of the stage and put it in place. @param {string} what */
async function show(what) {
  const mine = ++asking;
  try {
    const { status, answer } = await ask(address(what));
    if (mine !== asking) return;
    if (status !== 200) return say((answer.faults || []).map((f) => f.words).join(" ") || answer.said || "This cannot be shown.", 12);
    keepingOpen(() => (answer.version ? take(answer) : put(answer)));
    if (answer.searching || answer.changing) watch();
  } catch {
    say("The server is away. Start it again, then load the page again.", 20);
  }
}

/** Ask again and again how what is worked out stands: the search's time, and what would change. */
function watch() {
  const mine = ++watching;
  window.setTimeout(async () => {
    if (mine !== watching) return;
    let again = false;
    try {
      if (document.getElementById("sheets-search")?.dataset.searching === "yes") {
        const { status, answer } = await ask(address("search"));
        if (status === 200) {
          const focused = document.activeElement?.id === "search-stop";
          put(answer);
          if (focused) document.getElementById("search-stop")?.focus({ preventScroll: true });
          if (answer.searching) again = true;
          else return void show("part");
        }
      }
      if (document.getElementById("sheets-changes")?.dataset.changing === "yes") {
        const { status, answer } = await ask(address("changes"));
        if (status === 200) put(answer);
        again ||= Boolean(answer.changing);
      }
    } catch {
      again = true; // the server may come back
    }
    if (again && mine === watching) watch();
  }, 700);
}

/** @param {string} what @param {Record<string, unknown>} values @returns {Promise<import("./exchange.js").Answer | null>} */
async function tell(what, values) {
  try {
    const { status, answer } = await send(address(what), values);
    if (status === 200) return answer;
    const words = (answer.faults || []).map((f) => f.words).join(" ") || answer.said || "Nothing was changed.";
    return { said: "", faults: [{ field: "", words }] };
  } catch {
    say("The server is away: nothing was changed.", 20);
    return null;
  }
}

/** @param {string} id @param {string} words */
function wrong(id, words) {
  const place = document.getElementById(id);
  if (!place) return say(words, 20);
  place.textContent = words;
  place.hidden = !words;
}

/** @param {string} href */
async function go(href) {
  history.pushState(null, "", href);
  await show("one");
  const said = document.getElementById("step-said");
  const words = document.querySelector("#sheets-one .step-words");
  if (said && words instanceof HTMLElement) said.textContent = words.innerText.replace(/\s+/g, " ");
  const shown = document.getElementById("sheets-one");
  const place = shown?.getBoundingClientRect();
  if (place && (place.top < 0 || place.bottom > innerHeight)) shown?.scrollIntoView({ block: "start" });
}

document.addEventListener("click", async (event) => {
  const target = event.target instanceof Element ? event.target : null;
  const link = target?.closest("#sheets a[data-sheet]");
  if (link instanceof HTMLAnchorElement && !event.ctrlKey && !event.metaKey && !event.shiftKey) {
    event.preventDefault();
    await go(link.href);
    return;
  }
  if (target?.id === "search-stop") {
    event.preventDefault();
    await tell("search", { stop: true });
    watch();
  }
  const take = target?.closest("button[data-take]");
  if (take instanceof HTMLButtonElement) {
    event.preventDefault();
    await onRack({ act: "take", code: take.dataset.take }, take);
  }
  if (target instanceof HTMLButtonElement && target.id === "sheets-cut") {
    event.preventDefault();
    await onRack({ act: "cut" }, target);
  }
});

/** @param {Record<string, unknown>} values @param {HTMLButtonElement} [button] */
async function onRack(values, button) {
  if (button) button.disabled = true;
  const told = await tell("rack", values);
  if (button) button.disabled = false;
  if (!told) return;
  const words = told.faults?.[0]?.words || "";
  if (words) return values.act === "put" ? wrong("rack-wrong", words) : say(words, 30);
  say(told.said || "Done.", 12);
  await show("part");
}

document.addEventListener("submit", async (event) => {
  const form = event.target;
  if (!(form instanceof HTMLFormElement)) return;
  if (form.id === "search-form") {
    event.preventDefault();
    const told = await tell("search", Object.fromEntries(new FormData(form)));
    const words = told?.faults?.[0]?.words || "";
    if (words) return wrong("seconds-wrong", words);
    if (told) {
      put(told);
      document.getElementById("search-stop")?.focus({ preventScroll: true });
      watch();
    }
  }
  if (form.id === "rack-form") {
    event.preventDefault();
    await onRack({ act: "put", ...Object.fromEntries(new FormData(form)) });
  }
});

document.addEventListener("keydown", (event) => {
  if (event.ctrlKey || event.metaKey || event.altKey || event.shiftKey) return;
  if (event.target instanceof HTMLElement && event.target.matches("input, select, textarea")) return;
  const way = { ArrowRight: "next", ArrowLeft: "back", Home: "whole" }[event.key];
  const link = way && document.querySelector(`#sheets-one a[data-way="${way}"]`);
  const box = event.target instanceof HTMLElement ? event.target.closest(".wide") : null;
  if (!(link instanceof HTMLAnchorElement) || (box && box.scrollWidth > box.clientWidth)) return;
  event.preventDefault();
  go(link.href);
});

window.addEventListener("popstate", () => show("one"));
document.addEventListener("storyrod:planned", () => show("part"));
document.addEventListener("storyrod:workshop", (event) => {
  event.preventDefault();
  show("part");
});
document.addEventListener("storyrod:stale", () => show("part"));
document.addEventListener("storyrod:changed", (event) => {
  event.preventDefault();
  show("part");
  say("This job was changed somewhere else; here it is as it is now.");
});
if (job) listen(job, (word) => { if (word.kind === "sheets" && document.getElementById("sheets-search")?.dataset.searching !== "yes") show("part"); });

const svg = document.querySelector("#sheets-one .drawing");
if (svg && Math.abs(svg.getBoundingClientRect().width - wide() * 4) > 60) show("one");
watch();
