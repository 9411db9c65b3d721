// A meet as its rule set runs it: what is due, who lifts when, changes left, sums and places.

const COUNTED = 3;
const ODD = 1e-6;

// A lift's attempts that stand: those with a result, then the one that is due or only planned.
export function standing(entry, lift) {
  const rows = entry.attempts.filter((one) => one.lift === lift).sort((a, b) => a.number - b.number);
  const first = rows.findIndex((one) => !one.result);
  return first < 0 ? rows : rows.slice(0, first + 1);
}

export const done = (entry, lift) => standing(entry, lift).filter((one) => one.result);
export const due = (entry, lift) => standing(entry, lift).find((one) => !one.result) ?? null;
export const isOver = (entry, lift, rules) => done(entry, lift).length >= rules.attempts;

// A round is finished first, then the lighter bar, then the lot number.
export function order(entries, lift, rules) {
  return entries
    .filter((entry) => !isOver(entry, lift, rules) && due(entry, lift))
    .map((entry) => ({ id: entry.id, ...due(entry, lift), lot: entry.lot }))
    .sort((a, b) => a.number - b.number || a.load_kg - b.load_kg || a.lot - b.lot || a.id - b.id);
}

export function changesLeft(entry, lift, rules) {
  const waits = due(entry, lift);
  if (!waits || waits.number > COUNTED) return 0;
  return Math.max(rules.changes[lift][waits.number - 1] - waits.changes, 0);
}

// The load when nothing is handed in: one step more after a make, else the same.
export function nextDefault(entry, lift, rules) {
  const last = done(entry, lift).at(-1);
  return last ? last.load_kg + (last.result === "made" ? rules.step_kg : 0) : null;
}

// What the rule set says against a load, in words; "" when nothing.
export function against(entry, lift, rules, kg) {
  const steps = kg / rules.step_kg;
  if (Math.abs(steps - Math.round(steps)) > ODD) return `${kg} kg is not a multiple of ${rules.step_kg} kg`;
  const least = nextDefault(entry, lift, rules);
  const last = done(entry, lift).at(-1);
  if (last && kg < least - ODD) return `after ${last.load_kg} kg ${last.result === "made" ? "made" : "missed"} the next is at least ${least} kg`;
  const waits = due(entry, lift);
  if (waits?.declared && Math.abs(waits.load_kg - kg) > ODD && changesLeft(entry, lift, rules) < 1) {
    return `attempt ${waits.number} may be changed ${rules.changes[lift][waits.number - 1] ?? 0} times, and that is used up`;
  }
  return "";
}

export function best(entry, lift) {
  return Math.max(0, ...entry.attempts.filter((one) => one.lift === lift && one.result === "made" && one.number <= COUNTED).map((one) => one.load_kg));
}

// Best of every lift but the deadlift; the typed subtotal where one is missing.
export function subtotal(entry, lifts) {
  const bests = lifts.filter((lift) => lift !== "deadlift").map((lift) => best(entry, lift));
  return bests.length && bests.every(Boolean) ? bests.reduce((a, b) => a + b) : entry.subtotal_kg;
}

export function total(entry, lifts) {
  const pull = best(entry, "deadlift");
  const before = subtotal(entry, lifts);
  return pull && (before || lifts.every((lift) => lift === "deadlift")) ? pull + before : 0;
}

// Those with a total, by total; equal totals share a place because bodies are private.
export function places(entries, lifts) {
  const rows = entries.map((entry) => ({ entry, total: total(entry, lifts) })).filter((row) => row.total);
  rows.sort((a, b) => b.total - a.total);
  return rows.map((row) => ({ ...row, place: rows.findIndex((one) => one.total === row.total) + 1, shared: rows.filter((one) => one.total === row.total).length > 1 }));
}

// The lightest deadlift, in steps, that puts the total above the rival's.
export function lightestToPass(before, rivalTotal, step) {
  return Math.max((Math.floor((rivalTotal - before) / step + ODD) + 1) * step, step);
}

// Results that tell of strength, for planning; null once an attempt was not tried.
export function taken(entry, lift) {
  const rows = done(entry, lift);
  if (rows.some((one) => one.result === "not-tried" || one.result === "stopped-pain")) return null;
  return rows.map((one) => ({ load: one.load_kg, made: one.result === "made" }));
}

// Seconds left to hand in the next attempt; null when nothing runs.
export function secondsLeft(entry, lift, rules, now) {
  const last = done(entry, lift).at(-1);
  if (!last?.ended || isOver(entry, lift, rules) || due(entry, lift)?.declared) return null;
  const left = rules.seconds_to_declare - (now - new Date(last.ended).getTime()) / 1000;
  return left > -600 ? Math.max(left, 0) : null;
}
