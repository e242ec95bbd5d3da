// The job file as text: the numbers of the lines keep step with it, and it is not left unsaved by mistake.
const area = /** @type {HTMLTextAreaElement} */ (document.getElementById("job-text"));
const numbers = /** @type {HTMLElement} */ (document.querySelector(".numbered .numbers"));

area.addEventListener("input", () => {
  const lines = area.value.split("\n").length;
  const there = numbers.querySelectorAll("span");
  for (let n = there.length; n < lines; n += 1) {
    numbers.append(Object.assign(document.createElement("span"), { textContent: String(n + 1) }), "\n");
  }
  for (let n = lines; n < there.length; n += 1) {
    there[n].nextSibling?.remove();
    there[n].remove();
  }
  area.rows = Math.max(lines + 1, 12);
});
let saving = false;
area.form?.addEventListener("submit", () => { saving = true; });
window.addEventListener("beforeunload", (event) => {
  if (!saving && area.value !== area.defaultValue) event.preventDefault();
});
document.addEventListener("storyrod:changed", (event) => {
  if (area.value === area.defaultValue) {
    event.preventDefault();
    location.reload();
  }
});
