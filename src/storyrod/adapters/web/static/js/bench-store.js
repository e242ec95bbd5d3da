// What is known of the ticks, and what waits to be sent: kept in the browser until the server has confirmed it. Every
// tick is an entry of its own with its own uid, so that two windows, a reload or sending twice neither lose nor double.
import { ask, send } from "./exchange.js";

/** @typedef {{done: boolean, who: string, at: number, digest: string}} Word */
/** @typedef {[thing: string, copy: number, done: boolean, who: string, at: number, digest: string]} SentWord */
/** @typedef {{uid: string, thing: string, name: string, content: string, copy: number, done: boolean, version: string, made: number, n: number}} Tick */
/** @typedef {{uid: string, card: string, version: string, seconds: number, from: number, ticked: [string, number][]}} Stretch */
/** @typedef {"sent" | "waiting" | "refused" | "gone"} Standing */

/** @param {string} thing @param {number} copy @returns {string} */
export const key = (thing, copy) => `${copy} ${thing}`;

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
    /** @type {string[]} */
    this.refused = [];
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
      if (event.key && event.key.startsWith(`storyrod-tick:${job}:`)) { this.collect(); this.changed(null); }
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

  /** @param {string} name @param {unknown} value */
  write(name, value) {
    try {
      if (value === null) localStorage.removeItem(`storyrod-${name}`);
      else localStorage.setItem(`storyrod-${name}`, JSON.stringify(value));
    } catch {
      this.keeps = false;
    }
  }

  /** Take in what waits in this browser, from this window, from one before it, or from one beside it. */
  collect() {
    const ticks = new Map(), stretches = new Map();
    try {
      for (let i = 0; i < localStorage.length; i++) {
        const name = localStorage.key(i) || "";
        for (const [kind, found] of /** @type {[string, Map<string, any>][]} */ ([["tick", ticks], ["stretch", stretches]])) {
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

  /** @param {Omit<Tick, "uid" | "made" | "n">[]} ticks */
  add(ticks) {
    for (const tick of ticks) {
      const item = { ...tick, uid: uid(), made: Date.now(), n: this.counter++ };
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

  /** Send what waits; again after a while where it can not be sent now. */
  async flush() {
    if (this.sending || this.ticks.size + this.stretches.size === 0) return;
    this.sending = true;
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
    if (this.standing === "sent" && this.ticks.size + this.stretches.size) this.flush();
  }

  async sendAll() {
    const now = Date.now();
    const ticks = this.waiting().slice(0, 500);
    const stretches = [...this.stretches.values()].slice(0, 100);
    const status = await this.post(ticks, stretches, now);
    if (status === 422) {
      // Something the server can not read: sent one by one, so that only that one is set aside.
      for (const tick of ticks) await this.one("tick", tick, await this.post([tick], [], now));
      for (const stretch of stretches) await this.one("stretch", stretch, await this.post([], [stretch], now));
    }
  }

  /** @param {"tick" | "stretch"} kind @param {Tick | Stretch} item @param {number} status */
  async one(kind, item, status) {
    if (status !== 422) return;
    this.refused.push("name" in item ? item.name : `time at ${item.card}`);
    this.drop(kind, item.uid);
    if ("thing" in item) this.changed([key(item.thing, item.copy)]);
  }

  /** @param {"tick" | "stretch"} kind @param {string} id */
  drop(kind, id) {
    (kind === "tick" ? this.ticks : this.stretches).delete(id);
    this.latest = null;
    this.write(`${kind}:${this.job}:${id}`, null);
  }

  /** @param {Tick[]} ticks @param {Stretch[]} stretches @param {number} now @returns {Promise<number>} */
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
      return status;
    }
    if (status === 422) return status;
    if (status !== 200) throw new Error(`answered ${status}`);
    for (const id of /** @type {string[]} */ (answer.kept)) { this.drop("tick", id); this.drop("stretch", id); }
    for (const no of /** @type {{uid: string, words: string}[]} */ (answer.refused)) {
      const was = this.ticks.get(no.uid);
      this.drop("tick", no.uid);
      this.refused.push(no.words);
      if (was) this.changed([key(was.thing, was.copy)]);
    }
    this.standing = this.refused.length ? "refused" : "sent";
    const told = /** @type {{seq: number, first: number, since: number, words: SentWord[]}} */ (/** @type {unknown} */ (answer));
    if (told.seq < this.seq) await this.catchUp();
    else if (this.hear(told)) await this.catchUp();
    this.changed([]);
    return status;
  }
}
