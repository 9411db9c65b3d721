// The scrubber moves every panel to the same share of its pull. The server sends a few frames; between them numbers
// are blended, so the drawing itself lives in one place only.
const section = document.querySelector("[data-frames]");
const slider = document.getElementById("share");
const NUMBERS = /-?\d+(?:\.\d+)?/g;
let frames = null;

function blend(before, after, share) {
  if (before === after) return before;
  const targets = after.match(NUMBERS) ?? [];
  let at = 0;
  return before.replace(NUMBERS, (text) => {
    const decimals = Math.max(...[text, targets[at] ?? text].map((n) => (n.split(".")[1] ?? "").length));
    const value = Number(text) + (Number(targets[at] ?? text) - Number(text)) * share;
    at += 1;
    return value.toFixed(decimals);
  });
}

function move(part, changes, place) {
  for (const [name, values] of Object.entries(changes)) {
    const at = place * (values.length - 1);
    const low = Math.min(Math.floor(at), values.length - 2);
    const value = blend(values[low], values[low + 1], at - low);
    if (name === "text") part.textContent = value;
    else part.setAttribute(name, value);
  }
}

function words(percent) {
  if (percent === 0) return "At lift-off";
  return percent === 100 ? "At lockout" : `${percent} % of the pull`;
}

function show(percent) {
  section.querySelector("output").textContent = words(percent);
  section.querySelector(".when").textContent = words(percent);
  slider.setAttribute("aria-valuetext", words(percent));
  section.classList.toggle("moved", percent !== 0);
  for (const [style, parts] of Object.entries(frames.styles)) {
    const panel = section.querySelector(`.first-row [data-style="${style}"]`);
    for (const [name, changes] of Object.entries(parts)) {
      panel.querySelectorAll(`[data-part="${name}"]`).forEach((part) => move(part, changes, percent / 100));
    }
    numbers(panel);
  }
}

// The numbers under a panel are the letters in the picture, said again for small screens.
function numbers(panel) {
  const shown = { "hips to bar": "bracket-words", trunk: "trunk-deg", "hip bend": "hip-deg", "knee bend": "knee-deg" };
  for (const name of panel.querySelectorAll(".panel-numbers dt")) {
    const label = panel.querySelector(`[data-part="${shown[name.textContent]}"]`);
    if (label) name.nextElementSibling.textContent = label.textContent.replace(/^[a-z]+ /, "");
  }
}

async function begin() {
  const answer = await fetch(section.dataset.frames, { headers: { Accept: "application/json" } });
  if (!answer.ok) return;
  frames = await answer.json();
  section.querySelector(".scrubber").hidden = false;
  section.classList.add("moving");
  slider.addEventListener("input", () => show(Number(slider.value)));
  for (const button of section.querySelectorAll("[data-share]")) {
    button.addEventListener("click", () => {
      const to = button.dataset.share === "knee" ? Math.round(frames.knee * 100) : Number(button.dataset.share);
      slider.value = String(to);
      show(to);
    });
  }
  addEventListener("beforeprint", () => {
    slider.value = "0";
    show(0);
  });
}

if (section && slider) begin().catch(() => {});
