// A scanned link brings the code behind its "#": it is taken out of the address at once, and given as if it were typed.
const brought = new URLSearchParams(location.hash.slice(1));
const code = brought.get("code");
if (code) {
  history.replaceState(null, "", location.pathname);
  const form = document.querySelector("form");
  const typed = form?.querySelector("#code");
  const to = form?.querySelector("input[name=to]");
  if (form && typed instanceof HTMLInputElement && to instanceof HTMLInputElement) {
    typed.value = code;
    to.value = brought.get("to") || "/";
    form.requestSubmit();
  }
}
