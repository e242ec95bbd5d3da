// The sheets of rods: a button that prints them.
const button = document.getElementById("print-now");
if (button) {
  button.hidden = false;
  button.addEventListener("click", () => window.print());
}
