// Keys of Today: a long press on "Reps left" takes the half above, and load and repetitions move by a step.
// Everything works without this file: the fields can be typed in, and whole reps left be chosen.

const HOLD = 500; // ms
const STEPS = { load: { kg: 2.5, lb: 5 }, reps: { kg: 1, lb: 1 } };
const form = document.querySelector("form.set");

function plain(number) {
  return String(Math.round(number * 100) / 100);
}

function show() {
  document.querySelector("[data-load]").textContent = form.elements.load.value || "–";
  document.querySelector("[data-reps]").textContent = form.elements.reps.value;
}

function takeHalf(label, input, rpe) {
  const left = Number(input.dataset.whole) + 0.5;
  input.value = plain(left);
  input.checked = true;
  label.querySelector("span").textContent = `${input.dataset.whole}½`;
  label.querySelector("small").textContent = `RPE ${plain(rpe - 0.5)}`;
  input.setAttribute("aria-label", `${plain(left)} reps left, RPE ${plain(rpe - 0.5)}`);
}

function takeWhole(label, input, rpe) {
  input.value = input.dataset.whole;
  label.querySelector("span").textContent = input.dataset.whole;
  label.querySelector("small").textContent = `RPE ${rpe}`;
  input.setAttribute("aria-label", `${input.dataset.whole} reps left, RPE ${rpe}`);
}

for (const label of form?.querySelectorAll(".effort label") ?? []) {
  const input = label.querySelector("input");
  const rpe = 10 - Number(input.value);
  input.dataset.whole = input.value;
  let timer = 0;
  let held = false;
  label.addEventListener("pointerdown", () => {
    held = false;
    timer = setTimeout(() => {
      held = true;
      takeHalf(label, input, rpe);
    }, HOLD);
  });
  for (const end of ["pointerup", "pointerleave", "pointercancel"]) label.addEventListener(end, () => clearTimeout(timer));
  label.addEventListener("click", () => {
    if (!held) takeWhole(label, input, rpe); // one press may click twice: the label, and the key in it
  });
  label.addEventListener("keydown", () => {
    held = false;
  });
}

for (const button of form?.querySelectorAll("[data-step]") ?? []) {
  button.hidden = false;
  button.addEventListener("click", () => {
    const field = form.elements[button.dataset.for];
    const step = STEPS[button.dataset.for][form.elements.unit.value] ?? 1;
    const least = button.dataset.for === "reps" ? 1 : 0;
    const now = Number(field.value.replace(",", ".")) || 0;
    field.value = plain(Math.max(now + (button.dataset.step === "+" ? step : -step), least));
    show();
  });
}

form?.addEventListener("input", show);
