// The sheet of all steps: a button that prints it.
const button = document.getElementById("print-now");
if (button) {
  button.hidden = false;
  button.addEventListener("click", () => window.print());
}
