// Changes not yet answered by the page's server. While it is away they are kept, also over a reload, and shown as waiting;
// they go in turn once it is back, or are dropped by the maker. Never both: what was dropped is not sent later.

/** @typedef {{what: string, values: Record<string, unknown>, id: string, base: string, dropped?: boolean}} Item */

const RETRY_MS = 3000;

/** An id that no other change has; `randomUUID` is not there on a page that came over plain HTTP.
 * @returns {string} */
function newId() {
  return [...crypto.getRandomValues(new Uint8Array(16))].map((byte) => byte.toString(16).padStart(2, "0")).join("");
}

export class Waiting {
  /** @param {string} job @param {(values: Record<string, unknown>) => string} wordsOf what a change is, in words */
  constructor(job, wordsOf) {
    this.key = `storyrod-waiting:${job}`;
    this.wordsOf = wordsOf;
    /** @type {Item[]} */
    this.items = [];
    /** @type {(() => void) | null} */
    this.wake = null;
    this.away = false;
    window.addEventListener("online", () => this.wake?.());
    window.addEventListener("beforeunload", (event) => { if (this.away && this.items.length) event.preventDefault(); });
  }

  /** The changes that an earlier visit of this page could not send.
   * @returns {Item[]} */
  left() {
    try {
      const kept = JSON.parse(localStorage.getItem(this.key) || "[]");
      return Array.isArray(kept) ? kept : [];
    } catch {
      return [];
    }
  }

  /** @param {string} what @param {Record<string, unknown>} values
   * @param {{id?: string, base?: string}} sentBefore its id and the version it was made on, where it is sent again
   * @returns {Item} */
  add(what, values, { id = newId(), base = "" }) {
    const item = { what, values, id, base };
    this.items.push(item);
    if (this.away) {
      this.keep();
      this.show();
    }
    return item;
  }

  /** It was answered, or dropped.
   * @param {Item} item */
  done(item) {
    this.items = this.items.filter((other) => other !== item);
    this.keep();
    if (this.away) this.show();
  }

  /** Take back all that has not been sent.
   * @returns {Item[]} */
  drain() {
    const all = this.items;
    for (const item of all) item.dropped = true;
    this.items = [];
    this.back();
    return all;
  }

  /** The server was reached. */
  back() {
    this.away = false;
    this.keep();
    this.show();
  }

  /** The server was not reached: say so, and resolve when it is time to try again.
   * @returns {Promise<void>} */
  untilAgain() {
    this.away = true;
    this.keep();
    this.show();
    return new Promise((resolve) => {
      const timer = window.setTimeout(() => this.wake?.(), RETRY_MS);
      this.wake = () => {
        clearTimeout(timer);
        this.wake = null;
        resolve();
      };
    });
  }

  keep() {
    try {
      if (this.away && this.items.length) {
        localStorage.setItem(this.key, JSON.stringify(this.items));
      } else {
        localStorage.removeItem(this.key);
      }
    } catch { /* No room in the browser: what waits is kept as long as this page is open. */ }
  }

  show() {
    const old = document.getElementById("waiting");
    if (!this.away || !this.items.length) {
      old?.remove();
      return;
    }
    const box = document.createElement("section");
    box.id = "waiting";
    box.className = "overtaken";
    box.setAttribute("role", "status");
    const head = document.createElement("h2");
    const n = this.items.length;
    head.textContent = n === 1 ? "The server is away. Your change waits here." : `The server is away. Your ${n} changes wait here.`;
    const list = document.createElement("ul");
    list.append(...this.items.map((item) => Object.assign(document.createElement("li"), { textContent: this.wordsOf(item.values) })));
    const words = document.createElement("p");
    words.textContent = "Start the server again: the page sends them by itself, in this order.";
    const now = Object.assign(document.createElement("button"), { type: "button", className: "main", textContent: "Try now" });
    now.addEventListener("click", () => this.wake?.());
    const drop = Object.assign(document.createElement("button"), { type: "button", textContent: n === 1 ? "Drop it" : "Drop them" });
    drop.addEventListener("click", () => {
      for (const item of this.items) item.dropped = true;
      this.wake?.();
    });
    box.append(head, list, words, now, " ", drop);
    const held = old?.contains(document.activeElement) ? document.activeElement?.textContent : null;
    if (old) old.replaceWith(box);
    else document.getElementById("main")?.prepend(box);
    if (held) (held === "Try now" ? now : drop).focus();
  }
}
