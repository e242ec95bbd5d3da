// A whole card at once: first the count, panel by panel, as one counts it on the bench; then all is ticked, and can be taken
// back as long as the card is in view. Whoever counts otherwise ticks one by one: what stays open is what was missed.

/** @typedef {{value: string, copy: number}} Open what is not ticked yet */
/** @typedef {{open: () => Open[], panelOf: (thing: string) => string, tick: (things: Open[], done: boolean) => void, oneByOne: () => void}} Bench */

/** Say how many are left on each panel: `A1 left side: 8, A2 right side: 8`.
 * @param {Open[]} open @param {(thing: string) => string} panelOf
 * @returns {string} */
export function counted(open, panelOf) {
  /** @type {Map<string, number>} */
  const counts = new Map();
  for (const { value } of open) counts.set(panelOf(value), (counts.get(panelOf(value)) || 0) + 1);
  const named = [...counts].filter(([name]) => name).map(([name, n]) => `${name}: ${n}`);
  const rest = counts.get("") || 0;
  if (rest && named.length) named.push(`others: ${rest}`);
  return named.join(", ");
}

export class WholeCard {
  /** @param {HTMLElement} box the card @param {Bench} bench */
  constructor(box, bench) {
    const part = (/** @type {string} */ name) => /** @type {HTMLElement} */ (box.querySelector(`.${name}`));
    this.bench = bench;
    this.place = part("whole-card");
    this.button = part("whole");
    this.ask = part("whole-ask");
    this.count = part("whole-count");
    this.yes = part("whole-yes");
    this.back = part("whole-back");
    /** @type {Open[]} */
    this.ticked = [];
    this.button.addEventListener("click", () => this.toAsk(true));
    part("whole-no").addEventListener("click", () => { this.toAsk(false); bench.oneByOne(); });
    this.yes.addEventListener("click", () => {
      this.ticked = bench.open();
      this.ask.hidden = true;
      bench.tick(this.ticked, true);
      this.back.focus();
    });
    this.back.addEventListener("click", () => {
      const things = this.ticked;
      this.ticked = [];
      bench.tick(things, false);
      this.button.focus();
    });
  }

  /** @param {boolean} asks */
  toAsk(asks) {
    this.ask.hidden = !asks;
    this.paint();
    if (asks) this.yes.focus();
  }

  /** Forget what can be taken back: the card goes out of view. */
  leave() {
    this.ticked = [];
    this.ask.hidden = true;
  }

  paint() {
    const open = this.bench.open();
    if (open.length && this.ticked.length) this.ticked = []; // one of them was taken back by hand
    this.place.hidden = open.length < 2 && !this.ticked.length;
    this.button.hidden = open.length < 2 || !this.ask.hidden;
    this.back.hidden = !this.ticked.length;
    this.back.textContent = `Take these ${this.ticked.length} back`;
    if (open.length < 2) this.ask.hidden = true;
    const names = counted(open, this.bench.panelOf);
    this.count.textContent = `Count what is done: ${open.length} on this card${names ? `. ${names}` : ""}.`;
    this.yes.textContent = `All ${open.length} are there`;
  }
}
