// Tapping marks onto a picture; the number fields stay the truth and work alone.
const form = document.getElementById("marks");
const frame = form.querySelector("[data-picture]");
const overlay = form.querySelector("[data-overlay]");
const choices = [...form.querySelectorAll("[name=tapping]")];
const field = (mark, axis) => form.elements[`${mark}_${axis}`];

function put(tag, attributes, text = "") {
  const node = document.createElementNS("http://www.w3.org/2000/svg", tag);
  for (const [name, value] of Object.entries(attributes)) node.setAttribute(name, value);
  node.textContent = text;
  overlay.append(node);
}

function draw() {
  overlay.replaceChildren();
  for (const { value: mark } of choices) {
    const [x, y] = ["x", "y"].map((axis) => field(mark, axis).value);
    if (x === "" || y === "") continue;
    put("circle", { cx: `${x}%`, cy: `${y}%`, r: 11, class: "ring" });
    put("circle", { cx: `${x}%`, cy: `${y}%`, r: 11 });
    put("text", { x: `${x}%`, y: `${y}%`, dx: 16, dy: 5 }, mark);
  }
}

function tap(event) {
  const box = frame.getBoundingClientRect();
  const chosen = choices.find((choice) => choice.checked);
  const share = (part, whole) => (100 * Math.min(Math.max(part / whole, 0), 1)).toFixed(1);
  field(chosen.value, "x").value = share(event.clientX - box.left, box.width);
  field(chosen.value, "y").value = share(event.clientY - box.top, box.height);
  const next = choices.find((choice) => field(choice.value, "x").value === "");
  if (next) next.checked = true;
  draw();
}

form.querySelector("[data-tap]").hidden = false;
frame.classList.add("tapping");
frame.addEventListener("click", tap);
form.addEventListener("input", draw);
draw();
