// The picture follows the form: the server draws, a moment after the last change. Without script the form is sent.
const form = document.getElementById("what-if-form");
const result = document.getElementById("what-if-result");
let waiting = 0;
let asked = 0;

async function show() {
  const query = new URLSearchParams(new FormData(form));
  const turn = ++asked;
  result.setAttribute("aria-busy", "true");
  const address = `${location.pathname}?${query}`;
  const answer = await fetch(`${address}&part=1`);
  if (turn !== asked) return;
  result.removeAttribute("aria-busy");
  if (!answer.ok || answer.redirected) {
    form.submit();
    return;
  }
  result.innerHTML = await answer.text();
  history.replaceState(null, "", address);
}

form?.addEventListener("input", () => {
  clearTimeout(waiting);
  waiting = setTimeout(() => show().catch(() => result.removeAttribute("aria-busy")), 300);
});
form?.addEventListener("submit", (event) => {
  event.preventDefault();
  show().catch(() => form.submit());
});
