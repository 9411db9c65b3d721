// One lifter on the board: what was done, what is due, and what may come next.

import { loadText, readLoad } from "./board.js";
import { chanceOf, chanceWords, plansAfter } from "./replan.js";
import { against, changesLeft, done, due, isOver, lightestToPass, nextDefault, subtotal, taken, total } from "./rules.js";

const OUT_OF_REACH = 0.02;
const NAMES = { main: "Highest expected", safer: "Safer", bolder: "Bolder", "common ratios": "Common ratios", careful: "Careful" };

export function element(tag, className = "", text = "") {
  const node = document.createElement(tag);
  if (className) node.className = className;
  if (text) node.textContent = text;
  return node;
}

function button(text, className, act) {
  const node = element("button", className, text);
  node.type = "button";
  node.addEventListener("click", act);
  return node;
}

const loadWords = (row) => `${row.load_typed} ${row.load_unit}`;
const number = (kg) => `${loadText(kg)} kg`;

// What was done, the last of it open to undo and to a reason.
function history(entry, meet, lift, say) {
  const rows = done(entry, lift);
  if (!rows.length) return [];
  const last = rows.at(-1);
  const line = element("p", "history", rows.map((row) => `${loadWords(row)} ${meet.results[row.result] ?? row.result}`).join(", "));
  const parts = [line];
  if (due(entry, lift)?.declared) return parts;
  const reasons = { missed: meet.misses, "stopped-pain": meet.misses, "no-lift": meet.refusals }[last.result];
  if (reasons) parts.push(reasonChoice(entry, lift, last, reasons, say));
  const undo = button(`Undo ${loadWords(last)} ${meet.results[last.result] ?? ""}`, "quiet", () => say(entry, lift, last.number, last, "", ""));
  undo.dataset.act = "undo";
  parts.push(undo);
  return parts;
}

function reasonChoice(entry, lift, last, reasons, say) {
  const label = element("label", "reasons", last.result === "no-lift" ? "Why no lift? " : "Where did it stop? ");
  const select = element("select");
  select.append(new Option("not noted", ""), ...reasons.map(([key, word]) => new Option(word, key, false, key === last.reason)));
  select.addEventListener("change", () => say(entry, lift, last.number, last, last.result, select.value));
  label.append(select);
  return label;
}

// The attempt that is handed in: its result is one tap away.
function results(entry, lift, row, say) {
  const box = element("div", "buttons");
  const words = [["made", "Made", ""], ["missed", "Missed", "quiet"], ["no-lift", "No lift", "quiet"], ["not-tried", "Not tried", "quiet"]];
  words.forEach(([result, word, className]) => {
    const one = button(word, className, () => say(entry, lift, row.number, row, result, ""));
    one.dataset.result = result;
    box.append(one);
  });
  if (!entry.rival) {
    const pain = button("Stopped (pain)", "quiet", () => say(entry, lift, row.number, row, "stopped-pain", ""));
    pain.dataset.result = "stopped-pain";
    box.append(pain);
  }
  return box;
}

// The clock to begin the lift, started by hand when the bar is ready.
function beginning(row, place, kept) {
  const running = kept.ready?.number === row.number;
  if (place !== 0 && !running) return [];
  const clock = element("p", "clock");
  clock.dataset.begin = running ? kept.ready.at : "";
  clock.hidden = !running;
  const start = button("Bar is ready", "quiet", () => {
    kept.ready = { number: row.number, at: Date.now() };
    clock.dataset.begin = kept.ready.at;
    clock.hidden = false;
  });
  return [clock, start];
}

// Loads that may be handed in next: the re-planned ones, the coach's plan, and what happens if nothing is.
function options(entry, lift, meet) {
  const rows = taken(entry, lift);
  const planned = due(entry, lift);
  const found = [];
  const add = (name, kg, chance, after, row = null) => {
    const there = found.find((one) => Math.abs(one.kg - kg) < 1e-6);
    if (!there) found.push({ name, kg, chance, after, row });
    else Object.assign(there, { name: `${there.name}, ${name.toLowerCase()}`, row: there.row ?? row });
  };
  const pulls = lift === "deadlift" && rows;
  const read = pulls && rows.length > 0; // an opener's chance comes after the last warm-ups, on the entry's page
  if (pulls) plansAfter(entry.belief, rows).forEach(({ name, root }) => add(NAMES[name] ?? name, root.load, read ? root.chance : null, root));
  if (planned) add("Planned", planned.load_kg, read ? chanceOf(entry.belief, rows, planned.load_kg) : null, null, planned);
  const fallback = nextDefault(entry, lift, meet.rules);
  if (fallback !== null) add("If nothing is handed in", fallback, read ? chanceOf(entry.belief, rows, fallback) : null, null);
  return found.filter((one) => !against(entry, lift, meet.rules, one.kg));
}

function optionWords(one) {
  const parts = [one.name];
  if (one.chance !== null) parts.push(chanceWords(one.chance));
  if (one.after?.made) parts.push(`then ${loadText(one.after.made.load)} if made${one.after.missed ? `, ${loadText(one.after.missed.load)} if missed` : ""}`);
  return parts.join(", ");
}

function choices(entry, lift, meet, next, say) {
  const box = element("div", "next-choice");
  options(entry, lift, meet).forEach((one, place) => {
    const row = one.row ?? { load_typed: loadText(one.kg), load_unit: "kg", load_kg: one.kg };
    const node = button("", place ? "quiet" : "", () => say(entry, lift, next, row, "", ""));
    node.dataset.kg = one.kg;
    node.append(element("strong", "", one.row ? loadWords(one.row) : number(one.kg)), element("span", "", optionWords(one)));
    box.append(node);
  });
  return box;
}

// A load typed by hand; a load against the rule set is asked about, never refused in silence.
function typed(entry, lift, meet, next, kept, say) {
  const form = element("form", "line");
  const label = element("label", "", due(entry, lift)?.declared ? "Change to" : "Another load");
  const input = element("input");
  Object.assign(input, { name: "load_typed", inputMode: "decimal", autocomplete: "off", maxLength: 20, value: kept.text ?? "" });
  input.addEventListener("input", () => Object.assign(kept, { text: input.value, asked: "" }));
  label.append(input);
  const asks = element("p", "asks", kept.asked ?? "");
  asks.setAttribute("role", "alert");
  asks.hidden = !kept.asked;
  const keep = element("button", "quiet", kept.asked?.startsWith("By the") ? "Keep it all the same" : "Hand in");
  form.append(label, keep, asks);
  form.addEventListener("submit", (event) => {
    event.preventDefault();
    const load = readLoad(input.value, meet.heaviest_kg);
    const problem = load ? against(entry, lift, meet.rules, load.load_kg) : "";
    if (!load) Object.assign(kept, { asked: `“${input.value}” is not a load from 0 to ${meet.heaviest_kg} kg, such as 182.5 or 400 lb.` });
    else if (problem && !kept.asked) Object.assign(kept, { asked: `By the rule set ${problem}. The officials decide: keep it only if they allow it.` });
    else {
      Object.assign(kept, { text: "", asked: "" });
      say(entry, lift, next, load, "", "");
      return;
    }
    say(null);
  });
  return form;
}

// What a rival's total asks of a deadlift.
function toPass(entry, meet, lifts) {
  const before = subtotal(entry, lifts);
  const ahead = meet.entries.filter((one) => one.id !== entry.id).map((one) => ({ name: one.name, total: total(one, lifts) }));
  const own = total(entry, lifts);
  if (!before && !lifts.every((lift) => lift === "deadlift")) return "";
  const nearest = ahead.filter((one) => one.total > own).sort((a, b) => a.total - b.total)[0];
  if (!nearest) return "";
  const needed = lightestToPass(before, nearest.total, meet.rules.step_kg);
  const chance = taken(entry, "deadlift") ? chanceOf(entry.belief, taken(entry, "deadlift"), needed) : null;
  if (chance !== null && chance < OUT_OF_REACH) return "";
  return `${number(needed)} passes ${nearest.name} (${number(nearest.total)})${chance === null ? "" : `: ${chanceWords(chance)}`}.`;
}

// The whole card. `place` says who lifts before; `kept` holds what is being typed; say(null) only draws again.
export function card(entry, meet, lift, place, kept, say) {
  const lifts = meet.lifts.map((one) => one.key);
  const box = element("article", `sheet lifter-card${place === 0 ? " first" : ""}${entry.rival ? " rival" : ""}`);
  box.id = `entry-${entry.id}`;
  box.append(heading(entry));
  const waits = due(entry, lift);
  const next = done(entry, lift).length + 1;
  if (isOver(entry, lift, meet.rules)) {
    box.append(element("p", "soft", "All attempts are taken."), ...history(entry, meet, lift, say));
    return box;
  }
  const now = waits ? `${loadWords(waits)}` : "nothing planned";
  box.append(element("p", "now", now), element("p", "soft", placeWords(entry, lift, meet, waits, next, place)));
  const clock = element("p", "clock");
  clock.dataset.clock = entry.id;
  clock.hidden = true;
  box.append(clock, ...history(entry, meet, lift, say));
  if (waits?.declared) box.append(...beginning(waits, place, kept), results(entry, lift, waits, say));
  else box.append(choices(entry, lift, meet, next, say));
  const more = element("details");
  more.dataset.of = entry.id;
  more.open = !waits && !box.querySelector(".next-choice button");
  more.append(element("summary", "", waits?.declared ? `Change the load (${changesWords(changesLeft(entry, lift, meet.rules))})` : "Another load"), typed(entry, lift, meet, next, kept, say));
  box.append(more);
  if (lift === "deadlift" && !entry.rival) {
    const words = toPass(entry, meet, lifts);
    if (words) box.append(element("p", "small", words));
    if (entry.belief?.why_not) box.append(element("p", "soft small", entry.belief.why_not));
    if (entry.belief?.careful) box.append(element("p", "small", "Careful attempts: nothing maximal is suggested."));
  }
  return box;
}

function heading(entry) {
  const title = element("h2", "", entry.name);
  const about = entry.rival ? " rival" : entry.style ? ` ${entry.style}` : "";
  if (about) title.append(element("span", "soft small", about));
  return title;
}

const changesWords = (left) => (left === 0 ? "no change left" : `${left} change${left === 1 ? "" : "s"} left`);

function placeWords(entry, lift, meet, waits, next, place) {
  const parts = [`Attempt ${next}${waits && !waits.declared ? ", planned, not handed in" : ""}`];
  if (place === 0) parts.push("lifts next");
  else if (place > 0) parts.push(`${place} before, about ${place} min`);
  if (waits?.declared) parts.push(changesWords(changesLeft(entry, lift, meet.rules)));
  const last = done(entry, lift).at(-1);
  if (last && last.result !== "made") parts.push("the same load may be called again");
  return `${parts.join("; ")}.`;
}
