// The sheet in which one set is logged: load and reps filled in, made in one tap, missed in three.

import { element, isHeavy, nextFields, setWords } from "./board.js";
import { readNumber, show, sideWords, stepped } from "./plates.js";

const CHOICES = ["effort_typed", "slowest_at", "what_changed", "in_new_style", "shape"];

export function makePanel(root, plates, save) {
  const one = (selector) => root.querySelector(selector);
  const all = (selector) => [...root.querySelectorAll(selector)];
  let lifter = null;
  let rows = [];
  let fields = {};
  let made = 0;
  let where = "";

  const load = one("#panel-load");
  const typedEffort = one("#panel-effort");
  const table = () => plates[fields.load_unit] ?? plates.kg;

  function pane(name) {
    for (const part of all(".pane")) part.hidden = !part.classList.contains(`pane-${name}`);
    one(`.pane-${name} .pane-body`).scrollTop = 0;
    one(`.pane-${name}`).querySelector("h3, .made")?.focus?.();
  }

  function paint() {
    const unit = fields.load_unit;
    one(".unit").textContent = unit;
    one(".side").textContent = sideWords(readNumber(load.value), unit, table());
    const steps = { one: table().step, big: table().big_step };
    all(".step[data-step]").forEach((b) => {
      const size = steps[b.dataset.step.slice(1)];
      b.textContent = `${b.dataset.step[0] === "-" ? "−" : "+"}${size}`;
      b.setAttribute("aria-label", `${size} ${unit} ${b.dataset.step[0] === "-" ? "less" : "more"}`);
    });
    one(".reps-now").textContent = fields.reps_tried;
    one(".effort-now").textContent = fields.effort_typed ? fields.effort_typed : "";
    all("[data-choice]").forEach((group) =>
      group.querySelectorAll("button").forEach((b) => b.setAttribute("aria-pressed", String(fields[group.dataset.choice] === b.value))),
    );
    one(".heavy").hidden = !isHeavy(lifter, { ...fields, load_typed: load.value });
    one(".new-style").hidden = !lifter.new_style;
    one(".made-reps").hidden = fields.reps_tried < 2;
    one(".made-now").textContent = made;
    one(".panel-pull").textContent = pullWords();
  }

  function pullWords() {
    const said = (name, silent) => (fields[name] === silent ? "" : (one(`[data-tag=${name}]`).selectedOptions[0]?.textContent.trim() ?? ""));
    const start = `${said("start", "floor")} ${fields.start_typed ?? ""} ${fields.start_typed ? (fields.start_unit ?? "") : ""}`.trim();
    const kit = ["straps", "belt", "suit", "paused"].filter((name) => fields[name]);
    return [`${said("style", "")} ${said("lift")}`.trim(), start, said("grip", "unknown"), ...kit].filter(Boolean).join(", ");
  }

  function fillTags() {
    all("[data-tag]").forEach((box) => {
      const value = fields[box.dataset.tag];
      if (box.type === "checkbox") box.checked = value ?? box.dataset.tag === "dead_stop";
      else box.value = value ?? { lift: "deadlift", bar_kind: "unknown", grip: "unknown", start: "floor" }[box.dataset.tag] ?? "";
    });
    readTags();
  }

  function readTags() {
    for (const box of all("[data-tag]")) fields[box.dataset.tag] = box.type === "checkbox" ? box.checked : box.value;
    if (fields.bar) fields.bar = Number(fields.bar);
  }

  function fill(chosen = null) {
    const next = nextFields(lifter, rows, chosen);
    fields = { reps_tried: 1, load_unit: "kg", effort_typed: "", slowest_at: "", what_changed: "", shape: "", ...next.fields, note: "", depth_verified: false };
    fields.in_new_style = lifter.new_style ? (fields.style === lifter.new_style ? "yes" : "no") : "";
    load.value = fields.load_typed ?? "";
    typedEffort.value = "";
    fillTags();
    drawPlan(next);
    one(".panel-asks").hidden = true;
    made = Math.max(0, fields.reps_tried - 1);
    paint();
    pane("set");
  }

  function drawPlan({ lines, place }) {
    const chips = one(".plan-chips");
    chips.hidden = lines.length < 2;
    chips.replaceChildren(
      ...lines.map(({ line, left }, index) => {
        const chip = element("button", "", `${line.work}${left ? "" : " ✓"}`);
        chip.type = "button";
        chip.setAttribute("aria-pressed", String(index === place));
        chip.addEventListener("click", () => fill(index));
        return chip;
      }),
    );
    const line = lines[place]?.line;
    const words = [line?.cue, line?.note].filter(Boolean).join(". ");
    one(".panel-cue").textContent = words;
    one(".panel-cue").hidden = !words;
  }

  function asks(words) {
    const box = one(".panel-asks");
    box.textContent = words;
    box.hidden = false;
    pane("set");
    box.scrollIntoView({ block: "nearest" });
  }

  async function finish(result, extra = {}) {
    readTags();
    fields.load_typed = load.value.trim();
    if (Number.isNaN(readNumber(fields.load_typed))) return asks(`Load “${fields.load_typed}” cannot be read; type a number such as 182.5.`);
    if (typedEffort.value.trim()) fields.effort_typed = typedEffort.value.trim();
    const whole = result === "made";
    const keep = { ...fields, result, ...extra };
    keep.reps_made = whole ? fields.reps_tried : result === "not-tried" ? 0 : Math.min(made, fields.reps_tried - 1);
    if (!whole) Object.assign(keep, { slowest_at: "", what_changed: "" });
    if (keep.slowest_at && one(".heavy").hidden) keep.slowest_at = "";
    if (keep.start === "floor") keep.start_typed = "";
    root.close();
    await save(lifter, keep);
  }

  function wireSteps() {
    all(".step[data-step]").forEach((b) =>
      b.addEventListener("click", () => {
        const size = b.dataset.step.endsWith("big") ? table().big_step : table().step;
        load.value = show(stepped(readNumber(load.value), b.dataset.step[0] === "-" ? -size : size, table()));
        paint();
      }),
    );
    all("[data-rep]").forEach((b) =>
      b.addEventListener("click", () => {
        fields.reps_tried = Math.min(100, Math.max(1, fields.reps_tried + Number(b.dataset.rep)));
        made = Math.max(0, fields.reps_tried - 1);
        paint();
      }),
    );
    all("[data-made]").forEach((b) =>
      b.addEventListener("click", () => {
        made = Math.min(fields.reps_tried - 1, Math.max(0, made + Number(b.dataset.made)));
        paint();
      }),
    );
    one(".unit").addEventListener("click", () => {
      fields.load_unit = fields.load_unit === "kg" ? "lb" : "kg";
      paint();
    });
    load.addEventListener("input", paint);
    load.addEventListener("focus", () => load.select());
  }

  function wireChoices() {
    CHOICES.forEach((name) =>
      all(`[data-choice=${name}] button`).forEach((b) =>
        b.addEventListener("click", () => {
          fields[name] = fields[name] === b.value ? "" : b.value;
          paint();
        }),
      ),
    );
    all("[data-tag]").forEach((box) =>
      box.addEventListener("change", () => {
        readTags();
        paint();
      }),
    );
  }

  function wireResults() {
    all("[data-go]").forEach((b) => b.addEventListener("click", () => pane(b.dataset.go)));
    all("[data-save]").forEach((b) => b.addEventListener("click", () => finish(b.dataset.save)));
    all("[data-rule]").forEach((b) => b.addEventListener("click", () => finish("no-lift", { rule_reason: b.dataset.rule })));
    all("[data-why]").forEach((b) => b.addEventListener("click", () => finish("missed", { miss_position: where, gave_way: b.dataset.why })));
    all("[data-where]").forEach((spot) => {
      const choose = () => {
        where = spot.dataset.where;
        pane("why");
      };
      spot.addEventListener("click", choose);
      spot.addEventListener("keydown", (event) => {
        if (spot.tagName === "BUTTON" || !["Enter", " "].includes(event.key)) return;
        event.preventDefault();
        choose();
      });
    });
    all(".pane-body details").forEach((box) => box.addEventListener("toggle", () => box.open && box.scrollIntoView({ block: "nearest" })));
    one(".panel-close").addEventListener("click", () => root.close());
  }

  wireSteps();
  wireChoices();
  wireResults();

  return {
    open(chosen, tonight) {
      [lifter, rows] = [chosen, tonight];
      one("#panel-name").textContent = lifter.name;
      const last = rows.at(-1) ?? lifter.last;
      one(".panel-last").textContent = last ? `Last: ${setWords(last)}` : "Nothing logged before.";
      fill();
      root.showModal();
    },
    busy: () => root.open,
  };
}
