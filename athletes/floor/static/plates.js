// Steps and plates of a bar in kg or lb, from the table the server sends.

export const KG_PER_LB = 0.45359237;

export function toKg(number, unit) {
  return unit === "lb" ? number * KG_PER_LB : number;
}

// A number typed with a point or a comma; NaN when it is none.
export function readNumber(text) {
  return /^\s*\d{1,5}([.,]\d{1,4})?\s*$/.test(text) ? Number(text.replace(",", ".")) : NaN;
}

export function show(number) {
  return String(Math.round(number * 100) / 100);
}

// The next load the plates can make, `step` up (+) or down (-); never below the empty bar.
export function stepped(number, step, { bar, step: smallest }) {
  const start = Number.isNaN(number) ? bar : number;
  const raw = (start - bar) / smallest;
  const moved = step > 0 ? Math.floor(raw + 1e-9) + step / smallest : Math.ceil(raw - 1e-9) + step / smallest;
  return bar + Math.max(0, moved) * smallest;
}

// The plates of one side, heaviest first; null when the plates cannot make the load.
export function perSide(number, { bar, plates }) {
  let left = (number - bar) / 2;
  if (Number.isNaN(number) || left < 0) return null;
  const side = [];
  for (const plate of plates) {
    while (left >= plate - 1e-6) {
      side.push(plate);
      left -= plate;
    }
  }
  return left < 1e-6 ? side : null;
}

export function sideWords(number, unit, table) {
  const side = perSide(number, table);
  if (Number.isNaN(number)) return "";
  if (number < table.bar) return `less than a ${table.bar} ${unit} bar`;
  if (side === null) return `not made by usual plates on a ${table.bar} ${unit} bar`;
  if (!side.length) return `empty bar, ${table.bar} ${unit}`;
  return `each side ${side.join(" + ")}`;
}
