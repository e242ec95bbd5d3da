// Help at hand: by its button or by "?", beside what is on the screen; what is typed finds a word.
const button = document.getElementById("help-button");
/** @type {HTMLDialogElement | null} */
let panel = null;

/** @param {ParentNode} box */
function finding(box) {
  const field = box.querySelector("#help-find"), none = box.querySelector(".help-none");
  if (!(field instanceof HTMLInputElement)) return;
  field.closest(".help-find")?.removeAttribute("hidden");
  field.addEventListener("input", () => {
    const wanted = field.value.trim().toLowerCase();
    let shown = 0;
    for (const part of box.querySelectorAll("section")) {
      let own = 0;
      for (const word of part.querySelectorAll("dl > div")) {
        const fits = !wanted || (word.textContent || "").toLowerCase().includes(wanted);
        word.toggleAttribute("hidden", !fits);
        own += Number(fits);
      }
      part.toggleAttribute("hidden", own === 0);
      shown += own;
    }
    if (none) none.textContent = shown ? "" : "No such word here.";
  });
}

async function open() {
  if (!panel) {
    const response = await fetch("/help?part=1").catch(() => null);
    if (!response?.ok) { location.assign("/help"); return; }
    panel = document.createElement("dialog");
    panel.className = "help";
    panel.setAttribute("aria-label", "Help");
    panel.innerHTML = `<div class="help-head"><h1>Help</h1><button type="button">Close</button></div>${await response.text()}`;
    panel.querySelector("button")?.addEventListener("click", () => panel?.close());
    panel.addEventListener("click", (event) => { if (event.target === panel) panel?.close(); });
    document.body.append(panel);
    finding(panel);
  }
  if (!panel.open) panel.showModal();
  /** @type {HTMLElement | null} */ (panel.querySelector("#help-find"))?.focus();
}

button?.addEventListener("click", (event) => {
  if (event.ctrlKey || event.metaKey || event.shiftKey) return;
  event.preventDefault();
  open();
});
document.addEventListener("keydown", (event) => {
  if (event.key !== "?" || event.ctrlKey || event.metaKey || event.altKey) return;
  if (event.target instanceof HTMLElement && event.target.closest("input, textarea, select")) return;
  event.preventDefault();
  open();
});
if (location.pathname === "/help") finding(document);
