// Feet, toes and hands are taken hold of in the drawing. The footprint follows the finger at once; the lifters are drawn
// by the server, which has the last word. The number fields hold the same values and work without script.
import { redraw } from "./scrubber.js";

const root = document.getElementById("drawn");
const form = document.getElementById("setup-form");
const TOE = 41; // drawing units from the ankle to the tip of the foot
const UNITS = 200; // drawing units a metre
const TURN = Math.PI / 180;
let waiting = 0;
let busy = false;
let again = false;

const plan = () => root.querySelector("[data-plan] svg");
const handle = (svg, key) => svg.querySelector(`[data-handle="${key}"][role]`);
const held = (svg, key) => Number(handle(svg, key).getAttribute("aria-valuenow"));

function spoken(one, value) {
  const unit = one.dataset.unit;
  return `${one.getAttribute("aria-label")} ${value}${unit === "°" ? "" : " "}${unit}`;
}

// Every mark of the floor at the values the handles hold.
function place(svg) {
  const metres = Number(svg.dataset.metres);
  const middle = svg.viewBox.baseVal.width / 2;
  const half = (held(svg, "stance") * metres * UNITS) / 2;
  const hands = (held(svg, "hands") * metres * UNITS) / 2;
  const turn = held(svg, "turnout");
  for (const side of [-1, 1]) {
    const foot = svg.querySelector(`[data-foot="${side}"]`);
    const [, y] = foot.getAttribute("transform").match(/translate\(([^)]*)\)/)[1].split(",").map(Number);
    foot.setAttribute("transform", `translate(${middle + side * half},${y}) rotate(${-side * turn})`);
    const hand = svg.querySelector(`[data-hand="${side}"]`);
    const [, bar] = hand.getAttribute("transform").match(/translate\(([^)]*)\)/)[1].split(",").map(Number);
    hand.setAttribute("transform", `translate(${middle + side * hands},${bar})`);
    const set = (key, x, at) =>
      svg.querySelector(`[data-handle="${key}"][data-side="${side}"]`).setAttribute("transform", `translate(${x},${at})`);
    set("stance", middle + side * half, y);
    set("hands", middle + side * hands, bar);
    set("turnout", middle + side * (half + TOE * Math.sin(turn * TURN)), y + TOE * Math.cos(turn * TURN));
  }
  const span = svg.querySelector("[data-span]");
  const level = Number(span.getAttribute("d").match(/^M[^,]*,([\d.]+)/)[1]);
  span.setAttribute("d", `M${middle - half},${level}v8m0,-4H${middle + half}m0,-4v8`);
  const said = ["stance", "turnout", "hands"].map((key) => spoken(handle(svg, key), held(svg, key)));
  svg.parentElement.querySelector("[data-floor-words]").textContent = said.join(", ");
}

function put(svg, key, wanted) {
  const one = handle(svg, key);
  const [low, high] = [Number(one.getAttribute("aria-valuemin")), Number(one.getAttribute("aria-valuemax"))];
  const step = Number(one.dataset.step);
  const value = Math.min(Math.max(Math.round(wanted / step) * step, low), high);
  if (value === held(svg, key)) return;
  one.setAttribute("aria-valuenow", String(value));
  one.setAttribute("aria-valuetext", spoken(one, value));
  form.elements[key].value = String(value);
  place(svg);
  ask(60);
}

// --- the server's drawing ---

function swap(fresh, whole) {
  for (const mark of fresh.querySelectorAll("[data-swap]")) {
    document.querySelector(`[data-swap="${mark.dataset.swap}"]`)?.replaceWith(mark);
  }
  const [now, then] = [root.querySelector("[data-drawn]"), fresh.querySelector("[data-drawn]")];
  if (!now || !then) return;
  now.dataset.query = then.dataset.query;
  const [slider, bounds] = [now.querySelector("#height"), then.querySelector("#height")];
  slider.max = bounds.max;
  if (whole) now.querySelector("[data-plan]").replaceWith(then.querySelector("[data-plan]"));
  redraw();
}

async function draw(whole) {
  const query = new URLSearchParams(new FormData(form));
  for (const [name, value] of [...query]) if (value === "") query.delete(name);
  const address = `${location.pathname}?${query}`;
  const answer = await fetch(`${address}&part=1`);
  if (!answer.ok || answer.redirected) return form.submit();
  const fresh = new DOMParser().parseFromString(await answer.text(), "text/html");
  swap(fresh, whole);
  history.replaceState(null, "", address);
}

// One question at a time; what changed meanwhile is asked after it.
function ask(delay, whole = false) {
  clearTimeout(waiting);
  waiting = setTimeout(async () => {
    if (busy) {
      again = true;
      return;
    }
    busy = true;
    await draw(whole).catch(() => {});
    busy = false;
    if (again) {
      again = false;
      ask(0, whole);
    }
  }, delay);
}

// --- pointer and keys ---

function at(svg, event) {
  const point = new DOMPoint(event.clientX, event.clientY).matrixTransform(svg.getScreenCTM().inverse());
  return { x: point.x - svg.viewBox.baseVal.width / 2, y: point.y };
}

function drag(svg, key, side, event) {
  const metres = Number(svg.dataset.metres);
  const { x, y } = at(svg, event);
  if (key !== "turnout") return put(svg, key, (2 * Math.max(side * x, 0)) / UNITS / metres);
  const foot = svg.querySelector(`[data-foot="${side}"]`).getAttribute("transform");
  const ankle = Number(foot.match(/,([\d.]+)\)/)[1]);
  const half = (held(svg, "stance") * metres * UNITS) / 2;
  return put(svg, key, Math.atan2(side * x - half, Math.max(y - ankle, 0.1)) / TURN);
}

root?.addEventListener("pointerdown", (event) => {
  const grab = event.target.closest?.("[data-handle]");
  if (!grab || event.button) return;
  const svg = plan();
  const { handle: key, side } = grab.dataset;
  event.preventDefault();
  grab.setPointerCapture(event.pointerId);
  handle(svg, key).focus({ preventScroll: true });
  const moved = (next) => drag(svg, key, Number(side), next);
  const done = () => {
    grab.removeEventListener("pointermove", moved);
    grab.removeEventListener("pointerup", done);
    grab.removeEventListener("pointercancel", done);
  };
  grab.addEventListener("pointermove", moved);
  grab.addEventListener("pointerup", done);
  grab.addEventListener("pointercancel", done);
});

root?.addEventListener("keydown", (event) => {
  const one = event.target.closest?.("[data-handle][role]");
  if (!one) return;
  const step = Number(one.dataset.step);
  const now = Number(one.getAttribute("aria-valuenow"));
  const to = {
    ArrowRight: now + step,
    ArrowUp: now + step,
    ArrowLeft: now - step,
    ArrowDown: now - step,
    PageUp: now + 5 * step,
    PageDown: now - 5 * step,
    Home: Number(one.getAttribute("aria-valuemin")),
    End: Number(one.getAttribute("aria-valuemax")),
  }[event.key];
  if (to === undefined) return;
  event.preventDefault();
  put(plan(), one.dataset.handle, to);
});

form?.addEventListener("input", () => ask(300, true));
form?.addEventListener("submit", (event) => {
  event.preventDefault();
  ask(0, true);
});
