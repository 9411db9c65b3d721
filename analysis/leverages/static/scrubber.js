// The slider moves both lifters and the dots on the chart to one height of the bar. The server sends a few frames;
// between them numbers are blended, so the drawing itself lives in one place only.
const NUMBERS = /-?\d+(?:\.\d+)?/g;
const root = document.getElementById("drawn");
let frames = null;
let asked = "";

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

function move(part, changes, share) {
  for (const [name, values] of Object.entries(changes)) {
    const at = share * (values.length - 1);
    const low = Math.min(Math.floor(at), values.length - 2);
    const value = blend(values[low], values[low + 1], at - low);
    if (name === "text") part.textContent = value;
    else part.setAttribute(name, value);
  }
}

function words(height) {
  const styles = Object.values(frames.styles);
  const near = (z) => Math.abs(z - height) < 0.3;
  const shown = `${frames.unit === "cm" ? Math.round(height) : height.toFixed(1)} ${frames.unit}`;
  if (styles.some((s) => height <= s.ends[0] + 0.01)) return `${shown}, lift-off`;
  if (height >= Math.max(...styles.map((s) => s.ends[1])) - 0.3) return `${shown}, lockout`;
  return styles.some((s) => near(s.knee)) ? `${shown}, at the knee` : shown;
}

function show(height) {
  const drawn = root.querySelector("[data-drawn]");
  for (const [which, style] of Object.entries(frames.styles)) {
    const [low, high] = style.ends;
    const share = Math.min(Math.max((height - low) / (high - low), 0), 1);
    const place = drawn.querySelector(`[data-of="${which}"]`);
    for (const [name, changes] of Object.entries(style.parts)) {
      const inside = [...place.querySelectorAll(`[data-part="${name}"]`)];
      const found = inside.length ? inside : drawn.querySelectorAll(`.chart [data-part="${name}"]`);
      for (const part of found) move(part, changes, share);
    }
  }
  const slider = drawn.querySelector("#height");
  drawn.querySelector("output").textContent = words(height);
  slider.setAttribute("aria-valuetext", words(height));
}

// The frames of what is drawn now; asked for once a setup, when the slider is first touched.
async function load(drawn) {
  const query = drawn.dataset.query;
  if (frames && asked === query) return true;
  const answer = await fetch(`${drawn.dataset.frames}?${query}`, { headers: { Accept: "application/json" } });
  if (!answer.ok) return false;
  frames = await answer.json();
  asked = query;
  return Object.keys(frames.styles).length > 0;
}

async function slide(slider) {
  const drawn = root.querySelector("[data-drawn]");
  if (await load(drawn)) show(Number(slider.value));
}

// After a change the slider keeps its height.
export function redraw() {
  const slider = root.querySelector("#height");
  if (slider && Number(slider.value) > Number(slider.min)) slide(slider).catch(() => {});
}

const slider = root?.querySelector("#height");
if (slider) {
  root.querySelector("[data-drawn]").classList.add("moving");
  slider.disabled = false;
  slider.addEventListener("input", () => slide(slider).catch(() => {}));
  addEventListener("beforeprint", () => {
    if (!frames) return;
    slider.value = slider.min;
    show(Number(slider.min));
  });
}
