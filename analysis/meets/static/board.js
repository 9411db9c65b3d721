// The board's state on this phone: what the server told, then what this phone says and still holds.

const KG_PER_LB = 0.45359237;
const TYPED = /^\s*(\d{1,5}(?:[.,]\d{1,4})?)\s*(kg|kgs|kilo|kilos|lb|lbs|pound|#)?\.?\s*$/i;

// A typed load as the server reads it, or null; `heaviest` is the server's limit, kg.
export function readLoad(text, heaviest) {
  const found = TYPED.exec(text);
  if (!found) return null;
  const unit = /^(lb|lbs|pound|#)$/i.test(found[2] ?? "") ? "lb" : "kg";
  const kg = Number(found[1].replace(",", ".")) * (unit === "lb" ? KG_PER_LB : 1);
  return kg > 0 && kg <= heaviest ? { load_typed: found[1], load_unit: unit, load_kg: kg } : null;
}

export function loadText(kg) {
  return `${Math.round(kg * 100) / 100}`;
}

// What stands of an attempt, as the server writes it.
export function stands(row) {
  if (!row) return "";
  return `${row.load_typed} ${row.load_unit}|${row.result === "stopped-pain" ? "not-tried" : row.result}|${row.reason}`;
}

// The attempts of one lifter after one entry of this phone.
export function applied(attempts, said) {
  const at = attempts.findIndex((one) => one.lift === said.lift && one.number === said.number);
  const before = attempts[at] ?? { changes: 0, declared: "", result: "", ended: "" };
  const load = { load_typed: said.load_typed, load_unit: said.load_unit, load_kg: said.load_kg };
  const changed = before.declared && !before.result && !said.result && before.load_kg !== said.load_kg;
  const row = {
    lift: said.lift,
    number: said.number,
    ...load,
    result: said.result,
    reason: said.reason,
    changes: before.changes + (changed ? 1 : 0),
    declared: before.declared || said.at,
    ended: said.result ? (before.result ? before.ended : said.at) : "",
  };
  row.stands = stands(row);
  return at < 0 ? [...attempts, row] : attempts.map((one, i) => (i === at ? row : one));
}

// The meet as this phone sees it: the server's state and the entries that are not refused, in order.
export function seen(base, entries) {
  const held = entries.filter((one) => one.kind === "attempt" && one.meet === base.meet && one.status === "waiting");
  const changed = base.entries.map((entry) => {
    const own = held.filter((one) => one.entry === entry.id);
    return own.length ? { ...entry, attempts: own.reduce(applied, entry.attempts) } : entry;
  });
  return { ...base, entries: changed };
}

// The server's state with fresher attempts; lifters entered or taken off since need the page again.
export function freshened(base, told) {
  const same = base.entries.length === Object.keys(told.entries).length && base.entries.every((entry) => told.entries[entry.id]);
  if (!same) return null;
  return { ...base, now: told.now, entries: base.entries.map((entry) => ({ ...entry, attempts: told.entries[entry.id] })) };
}
