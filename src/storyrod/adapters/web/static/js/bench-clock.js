// The clock of a card: the first tick starts it, the last one stops it, or the hand does. A stretch that is over goes to
// the bench log with what was ticked in it; the tick that started the clock is not of it, for its work was done before.
import { uid } from "./bench-store.js";

/** @typedef {import("./bench-store.js").Store} Store */
/** @typedef {{card: string, from: number, last: number, hand: boolean, fresh: boolean, ticked: [string, number][]}} Running */

/** So long without a tick, and the clock stops itself at the last one: a break was made. */
export const BREAK_MS = 20 * 60 * 1000;

export class Clock {
  /** @param {Store} store @param {string} plan @param {(words: string) => void} tell */
  constructor(store, plan, tell) {
    this.store = store;
    this.plan = plan;
    this.tell = tell;
    const kept = store.read(`clock:${store.job}`);
    /** @type {Running | null} */
    this.running = kept && kept.plan === plan ? kept.running : null;
    /** @type {Record<string, number>} */
    this.spent = kept && kept.plan === plan ? kept.spent : {};
  }

  keep() {
    this.store.write(`clock:${this.store.job}`, { plan: this.plan, running: this.running, spent: this.spent });
  }

  /** @param {string} card @returns {number} milliseconds on a card so far */
  on(card) {
    const now = this.running && this.running.card === card ? Date.now() - this.running.from : 0;
    return (this.spent[card] || 0) + now;
  }

  /** Start by hand. @param {string} card @param {boolean} fresh whether nothing of the card is ticked yet */
  start(card, fresh) {
    this.stop();
    this.running = { card, from: Date.now(), last: Date.now(), hand: true, fresh, ticked: [] };
    this.keep();
  }

  /** Stop, now or at an earlier moment. @param {number} [at] */
  stop(at = Date.now()) {
    const was = this.running;
    if (!was) return;
    this.running = null;
    const seconds = Math.max(0, at - was.from) / 1000;
    if (seconds >= 1) {
      this.spent[was.card] = (this.spent[was.card] || 0) + seconds * 1000;
      if (was.ticked.length || was.hand) {
        this.store.addStretch({ uid: uid(), card: was.card, version: this.plan, seconds, from: was.from, ticked: was.ticked });
      }
    }
    this.keep();
  }

  /** Things were ticked on a card. @param {string} card @param {[string, number][]} things @param {boolean} complete */
  ticked(card, things, complete) {
    this.rest();
    const now = Date.now();
    if (this.running && this.running.card !== card) this.leave();
    if (this.running && this.running.hand && this.running.fresh) this.stop(now); // what went before was setting up
    if (!this.running) this.running = { card, from: now, last: now, hand: false, fresh: false, ticked: [] };
    else { this.running.ticked.push(...things); this.running.last = now; }
    if (complete) this.stop(now);
    this.keep();
  }

  /** Ticks were taken back. @param {[string, number][]} things */
  taken(things) {
    if (!this.running) return;
    this.running.ticked = this.running.ticked.filter(([t, c]) => !things.some(([u, d]) => t === u && c === d));
    this.keep();
  }

  /** Another card is taken up: the clock of the one before stops where the last thing was ticked. */
  leave() {
    const was = this.running;
    if (was) this.stop(was.hand && !was.ticked.length ? Date.now() : was.last);
  }

  /** Stop at the last tick where nothing was ticked for so long that a break was made. */
  rest() {
    const was = this.running;
    if (!was || Date.now() - was.last <= BREAK_MS) return;
    this.stop(was.last);
    this.tell("The clock stopped at the last tick: nothing was ticked for 20 minutes.");
  }
}

/** @param {number} ms @returns {string} */
export function face(ms) {
  const s = Math.floor(ms / 1000);
  const two = (/** @type {number} */ n) => String(n).padStart(2, "0");
  return s < 3600 ? `${Math.floor(s / 60)}:${two(s % 60)}` : `${Math.floor(s / 3600)}:${two(Math.floor(s / 60) % 60)}:${two(s % 60)}`;
}
