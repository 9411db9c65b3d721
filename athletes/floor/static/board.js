// The lifters who are here, what each does next, and what waits: drawn from the server's state plus this phone's queue.

import { toKg } from "./plates.js";

const NEAR = 0.1; // as the server counts sets for a planned line

export function element(tag, className = "", text = "") {
  const node = document.createElement(tag);
  if (className) node.className = className;
  if (text) node.textContent = text;
  return node;
}

// Today's sets of a lifter: the server's, without those being taken back, then what this phone still holds.
export function setsOf(lifter, entries) {
  const gone = new Set(entries.filter((e) => e.kind === "undo").map((e) => e.set));
  const there = new Set(lifter.sets.map((row) => row.uid));
  const held = entries.filter((e) => e.kind === "set" && e.athlete === lifter.id && !there.has(e.uid) && e.status !== "refused");
  return [...lifter.sets, ...held.map((e) => e.told)].filter((row) => !gone.has(row.uid));
}

function counts(line, row) {
  const same = ["lift", "style", "start", "paused"].every((name) => line.fields[name] === row.tags[name]);
  return same && (line.load_kg === null || Math.abs(row.load_kg - line.load_kg) <= NEAR * line.load_kg);
}

// The planned lines with their sets left and the last set that counted for each.
export function progress(lifter, rows) {
  const lines = lifter.plan.map((line) => ({ line, left: line.sets, last: null }));
  rows.forEach((row) => {
    const found = lines.find((one) => one.left > 0 && counts(one.line, row));
    if (found) {
      found.left -= 1;
      found.last = row;
    }
  });
  return lines;
}

// The fields of the next set: the plan, with the load of the set before it on the same line, else the usual ones.
export function nextFields(lifter, rows, chosen = null) {
  const lines = progress(lifter, rows);
  const now = (chosen !== null && lines[chosen]) || lines.find((one) => one.left > 0) || null;
  const before = now ? now.last : rows.at(-1);
  const fields = { ...(now ? now.line.fields : lifter.free) };
  if (!now && before?.fields) Object.assign(fields, before.fields);
  if (before) Object.assign(fields, { load_typed: before.load_typed, load_unit: before.load_unit });
  if (!now && before) fields.reps_tried = before.reps_tried;
  return { fields, now, place: now ? lines.indexOf(now) : -1, lines };
}

export function isHeavy(lifter, fields) {
  const best = lifter.bests[`${fields.lift ?? "deadlift"} ${fields.style ?? ""}`];
  const rpe = Number.parseFloat(fields.effort_typed);
  const load = toKg(Number.parseFloat(String(fields.load_typed).replace(",", ".")), fields.load_unit);
  const byEffort = /^[\d.]+$/.test(fields.effort_typed ?? "") && rpe >= 8.5;
  return byEffort || (best !== undefined && load >= 0.85 * best);
}

export function setWords(row) {
  return [`${row.load_typed} ${row.load_unit} × ${row.reps}`, row.effort, row.result, row.where].filter(Boolean).join(", ");
}

function card(lifter, entries, open) {
  const rows = setsOf(lifter, entries);
  const { fields, now, lines } = nextFields(lifter, rows);
  const box = element("article", "lifter");
  const tap = element("button", "next");
  tap.type = "button";
  tap.dataset.athlete = lifter.id;
  tap.append(element("span", "name", lifter.name));
  const load = fields.load_typed ? `${fields.load_typed} ${fields.load_unit}` : "load?";
  const number = now ? `set ${now.line.sets - now.left + 1} of ${now.line.sets}` : lines.length ? "plan done" : "no plan";
  tap.append(element("span", "what", `${load} × ${fields.reps_tried}`), element("span", "which", `${now ? `${now.line.pull}, ` : ""}${number}`));
  tap.addEventListener("click", () => open(lifter.id));
  box.append(tap);
  if (now?.line.cue || now?.line.note) box.append(element("p", "cue", [now.line.cue, now.line.note].filter(Boolean).join(". ")));
  const last = rows.at(-1);
  if (last) {
    const who = last.mine ? "you, waiting to be sent" : last.by;
    box.append(element("p", "last", `${setWords(last)}${who ? ` (${who})` : ""}`));
    if (rows.length > 1) box.append(earlier(rows.slice(0, -1)));
  } else if (lifter.last) {
    box.append(element("p", "last", `Last time: ${setWords(lifter.last)}`));
  }
  return box;
}

function earlier(rows) {
  const more = element("details", "earlier");
  more.append(element("summary", "", `${rows.length} earlier tonight`));
  const list = element("ol");
  rows.forEach((row) => list.append(element("li", "", setWords(row))));
  more.append(list);
  return more;
}

// What a card shows; a card whose words are the same is left in place, so that a redraw never swallows a tap or moves focus.
function wordsOf(lifter, entries) {
  return JSON.stringify([lifter, entries.filter((e) => e.athlete === lifter.id)]);
}

const drawnWords = new WeakMap();

function keptOrDrawn(before, lifter, entries, open) {
  const words = wordsOf(lifter, entries);
  if (before && drawnWords.get(before) === words) return before;
  const drawn = card(lifter, entries, open);
  drawn.dataset.of = lifter.id;
  const [more, was] = [drawn.querySelector("details"), before?.querySelector("details")];
  if (more && was) more.open = was.open;
  drawnWords.set(drawn, words);
  return drawn;
}

function nobodyHere() {
  return element("p", "lead nobody", "Nobody is marked as here yet. Tick who came in below; each lifter's next set then stands one tap away.");
}

export function draw(place, state, entries, open) {
  const before = new Map([...place.children].map((box) => [box.dataset.of, box]));
  const here = state.lifters.filter((one) => one.here);
  const wanted = here.map((one) => keptOrDrawn(before.get(String(one.id)), one, entries, open));
  if (!wanted.length) wanted.push(place.querySelector(".nobody") ?? nobodyHere());
  [...place.children].filter((box) => !wanted.includes(box)).forEach((box) => box.remove());
  wanted.forEach((box, at) => place.children[at] !== box && place.insertBefore(box, place.children[at] ?? null));
}
