// What a quick hand does before the page's scripts have come is done again once they are there: nothing typed is lost.
// It is no module, so that it is there before all that follows it.
{
  const kinds = ["click", "input", "change"];
  /** What the browser itself acts upon: a press of it is not given again. */
  const native = "a[href], label, input, select, textarea, summary, button:not([type=button])";
  /** @type {Event[]} */
  const early = [];
  /** What each field held when it was last changed; a script may have put what it remembers in its place since.
   * @type {Map<HTMLInputElement | HTMLSelectElement | HTMLTextAreaElement, [string, boolean]>} */
  const held = new Map();

  /** @param {Event} event */
  const keep = (event) => {
    early.push(event);
    if (event.type === "click") return; // a field that was only gone into may still be filled by a script
    const field = event.target;
    held.delete(/** @type {any} */ (field)); // the last one changed comes last: of radio buttons only one holds
    if (field instanceof HTMLInputElement) held.set(field, [field.value, field.checked]);
    else if (field instanceof HTMLSelectElement || field instanceof HTMLTextAreaElement) held.set(field, [field.value, false]);
  };
  for (const kind of kinds) document.addEventListener(kind, keep, true);

  // By now the modules have run. A press comes with its place and keys.
  document.addEventListener("DOMContentLoaded", () => {
    for (const kind of kinds) document.removeEventListener(kind, keep, true);
    for (const [field, [value, checked]] of held) {
      if (field.value !== value) field.value = value;
      if (field instanceof HTMLInputElement && field.checked !== checked) field.checked = checked;
    }
    for (const event of early) {
      const place = event.target;
      if (!(place instanceof Element) || !place.isConnected) continue;
      if (event.type === "click" && place.closest(native)) continue;
      const Kind = /** @type {typeof Event} */ (event.constructor);
      place.dispatchEvent(new Kind(event.type, event));
    }
  });
}
