// What is known of the ticks, and what waits to be sent: kept in the browser until the server has confirmed it. Every
// tick is an entry of its own with its own uid, so that two windows, a reload or sending twice neither lose nor double.
import { ask, send } from "./exchange.js";

/** @typedef {{done: boolean, who: string, at: number, digest: string}} Word */
/** @typedef {[thing: string, copy: number, done: boolean, who: string, at: number, digest: string]} SentWord */
/** @typedef {{uid: string, thing: string, name: string, content: string, key?: string, copy: number, done: boolean, version: string, made: number, seen: number, n: number}} Tick */
/** @typedef {{uid: string, card: string, version: string, seconds: number, from: number, ticked: [string, number][]}} Stretch */
/** @typedef {"sent" | "waiting" | "refused" | "gone"} Standing */
/** What the server did not keep, and why: nobody but the person at the tablet takes it from here.
 * @typedef {{uid: string, kind: "tick" | "stretch", item: Tick | Stretch, words: string}} Aside */
/** @typedef {{status: number, words: string}} Posted */

/** @param {string} thing @param {number} copy @returns {string} */
export const key = (thing, copy) => `${copy} ${thing}`;

/** Answers that one of several ticks may have brought about: unreadable, too large, a mistake of the server's. All others
 * mean that none can be kept now (503: the log cannot be written), and all wait. */
const MAYBE_ONE = new Set([400, 413, 422, 500]);

/** A name no other tick in the world has; also where the browser's own maker of such names is not allowed.
 * @returns {string} */
export function uid() {
  return [...crypto.getRandomValues(new Uint8Array(16))].map((b) => b.toString(16).padStart(2, "0")).join("");
}

export class Store {
  /** @param {string} job @param {{plan: string, seq: number, first: number, words: SentWord[]}} data @param {(changed: string[] | null) => void} changed told which words changed; null: any may have */
  constructor(job, data, changed) {
    this.job = job;
    this.changed = changed;
    /** @type {Standing} */
    this.standing = "sent";
    /** @type {Map<string, Aside>} */
    this.aside = new Map();
    /** Whether the server was reached but cannot keep ticks now. */
    this.held = false;
    this.keeps = true;
    this.plan = data.plan;
    /** Called when the job has another plan by now than this page shows. */
    this.replanned = () => {};
    /** @type {Map<string, Word>} */
    this.words = new Map();
    this.seq = 0;
    /** The row of the job's first tick: another one, and another job has this name by now. */
    this.first = 0;
    /** @type {Map<string, Tick>} */
    this.ticks = new Map();
    /** @type {Map<string, Tick> | null} */
    this.latest = null;
    /** @type {Map<string, Stretch>} */
    this.stretches = new Map();
    this.counter = 0;
    this.sending = false;
    this.again = 0;
    this.wait = 1000;
    const known = this.read(`words:${job}`);
    const another = known && known.first && data.first && known.first !== data.first;
    if (known && known.seq > data.seq && !another) {
      this.seq = known.seq;
      this.first = known.first || data.first;
      this.take(known.words);
    } else {
      this.seq = data.seq;
      this.first = data.first;
      this.take(data.words);
    }
    this.collect();
    addEventListener("storage", (event) => {
      if (event.key && ["tick", "aside"].some((kind) => event.key?.startsWith(`storyrod-${kind}:${job}:`))) { this.collect(); this.changed(null); }
    });
  }

  /** @param {string} name @returns {any} */
  read(name) {
    try {
      return JSON.parse(localStorage.getItem(`storyrod-${name}`) || "null");
    } catch {
      return null;
    }
  }

  /** Keep a value in the browser, or with null forget it; returns whether that could be done.
   * @param {string} name @param {unknown} value @returns {boolean} */
  write(name, value) {
    try {
      if (value === null) localStorage.removeItem(`storyrod-${name}`);
      else localStorage.setItem(`storyrod-${name}`, JSON.stringify(value));
      return true;
    } catch {
      this.keeps = false;
      return false;
    }
  }

  /** Take in what waits in this browser, from this window, from one before it, or from one beside it. */
  collect() {
    const ticks = new Map(), stretches = new Map(), aside = new Map();
    try {
      for (let i = 0; i < localStorage.length; i++) {
        const name = localStorage.key(i) || "";
        for (const [kind, found] of /** @type {[string, Map<string, any>][]} */ ([["tick", ticks], ["stretch", stretches], ["aside", aside]])) {
          if (!name.startsWith(`storyrod-${kind}:${this.job}:`)) continue;
          const item = this.read(name.slice("storyrod-".length));
          if (item && item.uid) found.set(item.uid, item);
        }
      }
    } catch {
      this.keeps = false;
      return;
    }
    if (!this.keeps) return;
    this.ticks = ticks;
    this.latest = null;
    this.stretches = stretches;
    this.aside = aside;
  }

  /** @returns {Tick[]} */
  waiting() {
    return [...this.ticks.values()].sort((a, b) => a.made - b.made || a.n - b.n);
  }

  /** The last word on a thing: what was ticked here and waits, or what the server told.
   * @param {string} thing @param {number} copy @returns {{done: boolean, who: string, digest: string | null, waits: boolean} | null} */
  word(thing, copy) {
    if (!this.latest) this.latest = new Map(this.waiting().map((t) => [key(t.thing, t.copy), t]));
    const here = this.latest.get(key(thing, copy));
    if (here) return { done: here.done, who: "", digest: null, waits: true };
    const word = this.words.get(key(thing, copy));
    return word ? { ...word, waits: false } : null;
  }

  /** @param {Omit<Tick, "uid" | "made" | "seen" | "n">[]} ticks */
  add(ticks) {
    for (const tick of ticks) {
      const item = { ...tick, uid: uid(), made: Date.now(), seen: this.seq, n: this.counter++ };
      this.ticks.set(item.uid, item);
      this.write(`tick:${this.job}:${item.uid}`, item);
    }
    this.latest = null;
    this.changed(ticks.map((t) => key(t.thing, t.copy)));
    this.flush();
  }

  /** @param {Stretch} stretch */
  addStretch(stretch) {
    this.stretches.set(stretch.uid, stretch);
    this.write(`stretch:${this.job}:${stretch.uid}`, stretch);
    this.flush();
  }

  /** @param {SentWord[]} words @returns {string[]} */
  take(words) {
    const changed = [];
    for (const [thing, copy, done, who, at, digest] of words) {
      this.words.set(key(thing, copy), { done, who, at, digest });
      changed.push(key(thing, copy));
    }
    return changed;
  }

  /** Take an answer or a word of another tablet; returns whether something between was missed.
   * @param {{seq: number, first: number, since: number, words: SentWord[]}} told @returns {boolean} */
  hear(told) {
    if (told.first && this.first && told.first !== this.first) {
      this.beginAnew();
      return true;
    }
    if (told.since > this.seq) return true;
    this.first = told.first || this.first;
    const changed = this.take(told.words);
    this.seq = Math.max(this.seq, told.seq);
    this.write(`words:${this.job}`, { seq: this.seq, first: this.first, words: [...this.words].map(([k, w]) => {
      const [copy, ...thing] = k.split(" ");
      return [thing.join(" "), Number(copy), w.done, w.who, w.at, w.digest];
    }) });
    if (changed.length) this.changed(changed);
    return false;
  }

  /** Forget what the server told: it was of another log, or of another job of this name. What waits is kept. */
  beginAnew() {
    this.words.clear();
    this.seq = 0;
    this.first = 0;
    this.write(`words:${this.job}`, null);
    this.changed(null);
  }

  /** Hear everything that was ticked while this page was away. */
  async catchUp() {
    try {
      const { status, answer } = await ask(`/job/${encodeURIComponent(this.job)}/bench/words?since=${this.seq}`);
      if (status === 401) this.stand("gone");
      if (status !== 200) return;
      if (answer.plan !== this.plan) this.replanned();
      const told = /** @type {{seq: number, first: number, since: number, words: SentWord[]}} */ (/** @type {unknown} */ (answer));
      if (told.seq < this.seq) {
        this.beginAnew();
        return void (await this.catchUp());
      }
      if (this.hear(told)) return void (await this.catchUp());
    } catch {
      // The server is away; the socket tells when it is back.
    }
  }

  /** @param {Standing} standing */
  stand(standing) {
    this.standing = standing;
    this.changed([]);
  }

  /** Send what waits; again after a while where it cannot be sent now. */
  async flush() {
    if (this.sending || this.ticks.size + this.stretches.size === 0) return;
    this.sending = true;
    this.held = false;
    clearTimeout(this.again);
    try {
      await this.sendAll();
      this.wait = 1000;
    } catch {
      this.stand("waiting");
      this.again = window.setTimeout(() => this.flush(), this.wait);
      this.wait = Math.min(this.wait * 2, 8000);
    } finally {
      this.sending = false;
    }
    if (["sent", "refused"].includes(this.standing) && this.ticks.size + this.stretches.size) this.flush();
  }

  async sendAll() {
    const now = Date.now();
    const ticks = this.waiting().slice(0, 500);
    const stretches = [...this.stretches.values()].slice(0, 100);
    const { status } = await this.post(ticks, stretches, now);
    if (!MAYBE_ONE.has(status)) return;
    // Something among them the server cannot read or keep: sent one by one, so that it holds up nothing else.
    let left = 0;
    for (const tick of ticks) left += this.one("tick", tick, await this.post([tick], [], now));
    for (const stretch of stretches) left += this.one("stretch", stretch, await this.post([], [stretch], now));
    this.held = left > 0;
    if (left) throw new Error(`${left} cannot be kept now`);
  }

  /** What the server cannot read is set aside, to be shown; anything else waits on. Returns 1 for what waits on.
   * @param {"tick" | "stretch"} kind @param {Tick | Stretch} item @param {Posted} posted @returns {number} */
  one(kind, item, { status, words }) {
    if (status === 422) this.setAside(kind, item, words);
    return MAYBE_ONE.has(status) && status !== 422 ? 1 : 0;
  }

  /** @param {"tick" | "stretch"} kind @param {Tick | Stretch} item @param {string} words */
  setAside(kind, item, words) {
    const aside = { uid: item.uid, kind, item, words };
    this.aside.set(item.uid, aside);
    if (this.write(`aside:${this.job}:${item.uid}`, aside)) this.drop(kind, item.uid);
    else (kind === "tick" ? this.ticks : this.stretches).delete(item.uid); // its own place in the browser keeps it
    this.latest = null;
    this.standing = "refused";
    if ("thing" in item) this.changed([key(item.thing, item.copy)]);
  }

  /** Take what was set aside out of the browser: done by hand alone. @param {string} id */
  dismiss(id) {
    const aside = this.aside.get(id);
    this.aside.delete(id);
    if (aside) this.write(`${aside.kind}:${this.job}:${id}`, null);
    this.write(`aside:${this.job}:${id}`, null);
    if (this.standing === "refused" && !this.aside.size) this.standing = "sent";
    this.changed([]);
  }

  /** Send what was set aside again, as by a server that can keep it by now. @param {string} id */
  sendAgain(id) {
    const aside = this.aside.get(id);
    if (!aside) return;
    (aside.kind === "tick" ? this.ticks : this.stretches).set(id, /** @type {any} */ (aside.item));
    if (!this.write(`${aside.kind}:${this.job}:${id}`, aside.item)) return;
    this.aside.delete(id);
    this.write(`aside:${this.job}:${id}`, null);
    this.latest = null;
    this.changed("thing" in aside.item ? [key(aside.item.thing, aside.item.copy)] : []);
    this.flush();
  }

  /** @param {"tick" | "stretch"} kind @param {string} id */
  drop(kind, id) {
    (kind === "tick" ? this.ticks : this.stretches).delete(id);
    this.latest = null;
    this.write(`${kind}:${this.job}:${id}`, null);
  }

  /** @param {Tick[]} ticks @param {Stretch[]} stretches @param {number} now @returns {Promise<Posted>} */
  async post(ticks, stretches, now) {
    const { status, answer } = await send(`/job/${encodeURIComponent(this.job)}/bench/ticks`, {
      since: this.seq,
      who: this.read("who") || "",
      ticks: ticks.map((t) => ({ ...t, age_s: Math.max(0, now - t.made) / 1000 })),
      stretches: stretches.map((s) => ({ ...s, age_s: Math.max(0, now - s.from) / 1000 })),
    });
    if (status === 401 || status === 403 || status === 404) {
      this.stand("gone");
      this.again = window.setTimeout(() => this.flush(), 10000);
      return { status, words: "" };
    }
    if (MAYBE_ONE.has(status)) return { status, words: (answer.faults || []).map((f) => f.words).join(" ") || answer.said || "" };
    if (status !== 200) {
      this.held = true;
      throw new Error(`answered ${status}`);
    }
    for (const id of /** @type {string[]} */ (answer.kept)) { this.drop("tick", id); this.drop("stretch", id); }
    for (const no of /** @type {{uid: string, words: string}[]} */ (answer.refused)) {
      const was = this.ticks.get(no.uid);
      if (was) this.setAside("tick", was, no.words);
    }
    this.standing = this.aside.size ? "refused" : "sent";
    const told = /** @type {{seq: number, first: number, since: number, words: SentWord[]}} */ (/** @type {unknown} */ (answer));
    if (told.seq < this.seq) await this.catchUp();
    else if (this.hear(told)) await this.catchUp();
    this.changed([]);
    return { status, words: "" };
  }
}
