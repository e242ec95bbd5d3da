// What is scrolled within itself shows at its edge that it goes on: the edge fades where there is more.
const LISTS = ".wide, .panel-row, .rod, .beside, .mark-told, .run, .run ol, .rod-choices, .shop-ways, .set-out-drawn, dialog.help";
const NEAR = 2;

/** @param {Element} list */
function tell(list) {
  const { scrollLeft, scrollTop, scrollWidth, scrollHeight, clientWidth, clientHeight } = list;
  const style = getComputedStyle(list);
  const x = /auto|scroll/.test(style.overflowX), y = /auto|scroll/.test(style.overflowY);
  const told = [
    x && scrollLeft > NEAR && "left", x && scrollLeft + clientWidth < scrollWidth - NEAR && "right",
    y && scrollTop > NEAR && "up", y && scrollTop + clientHeight < scrollHeight - NEAR && "down",
  ].filter(Boolean).join(" ");
  if (told) list.setAttribute("data-more", told);
  else list.removeAttribute("data-more");
}

let asked = 0;
function tellAll() {
  if (asked) return;
  asked = requestAnimationFrame(() => {
    asked = 0;
    for (const list of document.querySelectorAll(LISTS)) tell(list);
  });
}

document.addEventListener("scroll", (event) => {
  if (event.target instanceof Element && event.target.matches(LISTS)) tell(event.target);
}, { capture: true, passive: true });
document.addEventListener("storyrod:put", tellAll);
document.addEventListener("toggle", tellAll, true);
new ResizeObserver(tellAll).observe(document.body);
tellAll();

export {};
