// Shows how far a waiting import is; without this script the button asks once.
const form = document.querySelector("[data-step]");
const bar = form.querySelector("progress");
const words = form.querySelector("[data-words]");

async function step() {
  const answer = await fetch(form.action, {
    method: "POST",
    headers: { Accept: "application/json" },
    body: new FormData(form),
  });
  if (!answer.ok) throw new Error(`answered ${answer.status}`);
  const state = await answer.json();
  if (state.total) bar.max = state.total;
  if (state.total) bar.value = state.read;
  else bar.removeAttribute("value"); // a sheet that does not say how long it is
  words.textContent = state.words;
  return state.busy;
}

let waits = 500;
async function run() {
  for (;;) {
    try {
      if (!(await step())) break;
      waits = 500;
      await new Promise((go) => setTimeout(go, 500));
    } catch {
      words.textContent = "No answer from the server. Trying again; nothing is lost.";
      await new Promise((go) => setTimeout(go, waits));
      waits = Math.min(waits * 2, 30000);
    }
  }
  location.reload();
}

form.querySelector("button").hidden = true;
run();
