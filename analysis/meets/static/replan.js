// The attempts left after the results so far, planned on the phone by the same rules as on the server:
// the day's best is log-normal, attempt k of a load is made when the best, less the cost of k attempts, reaches it.
// `belief.limits` are the server's own numbers: attempts, least chance, surprise, lowest and highest load, worth of a bomb.

const ERF = [0.254829592, -0.284496736, 1.421413741, -1.453152027, 1.061405429];

// Abramowitz and Stegun 1964, formula 7.1.26.
export function normalCdf(x) {
  const t = 1 / (1 + (0.3275911 * Math.abs(x)) / Math.SQRT2);
  const tail = t * (ERF[0] + t * (ERF[1] + t * (ERF[2] + t * (ERF[3] + t * ERF[4]))));
  const upper = 0.5 * tail * Math.exp((-x * x) / 2);
  return x > 0 ? 1 - upper : upper;
}

const sum = (list) => list.reduce((a, b) => a + b, 0);
const sorted = (list) => [...new Set(list)].sort((a, b) => a - b);

// Cells of the day's best between all thresholds, the chance of each, and what is made in each.
function board(belief, loads, worth, worthNone) {
  const fade = [0, 1, 2].map((k) => (1 - belief.cost) ** k);
  const needed = fade.map((share) => loads.map((load) => load / share));
  const edges = sorted(needed.flat());
  const below = edges.map((edge) => normalCdf((Math.log(edge) - Math.log(belief.median)) / belief.sd));
  const cells = [0, ...edges].map((_, i) => (i < below.length ? below[i] : 1) - (i > 0 ? below[i - 1] : 0));
  const floor = [0, ...edges];
  const makes = needed.map((row) => row.map((least) => floor.map((best) => (best >= least ? 1 - belief.slip : 0))));
  return { loads, cells, makes, worth, worthNone, limits: belief.limits };
}

function after(table, spot, index, made) {
  const makes = table.makes[spot.attempt][index];
  const cells = spot.cells.map((chance, i) => chance * (made ? makes[i] : 1 - makes[i]));
  return { attempt: spot.attempt + 1, cells, least: index + (made ? 1 : 0), best: made ? index : spot.best };
}

const nearest = (loads, load) => loads.reduce((best, one, i) => (Math.abs(one - load) < Math.abs(loads[best] - load) ? i : best), 0);

function start(table, taken) {
  let spot = { attempt: 0, cells: table.cells, least: 0, best: -1 };
  taken.forEach(({ load, made }) => {
    spot = after(table, spot, nearest(table.loads, load), made);
  });
  return spot;
}

const worthNow = (table, spot) => (spot.best < 0 ? table.worthNone : table.worth[spot.best]);
const chanceAt = (table, spot, index) => sum(spot.cells.map((chance, i) => chance * table.makes[spot.attempt][index][i]));

function worthOf(table, spot) {
  const stay = sum(spot.cells) * worthNow(table, spot);
  if (spot.attempt >= table.limits.attempts || spot.least >= table.loads.length) return stay;
  return Math.max(stay, ...values(table, spot));
}

function values(table, spot) {
  const here = sum(spot.cells);
  return table.loads.map((_, index) => {
    if (index < spot.least) return -Infinity;
    if (spot.attempt === table.limits.attempts - 1) {
      const made = chanceAt(table, spot, index);
      return made * table.worth[index] + (here - made) * worthNow(table, spot);
    }
    return worthOf(table, after(table, spot, index, true)) + worthOf(table, after(table, spot, index, false));
  });
}

function bestBranch(table, spot) {
  const here = sum(spot.cells);
  if (spot.attempt >= table.limits.attempts || spot.least >= table.loads.length || here < table.limits.no_chance) return null;
  const found = values(table, spot).map((value) => Math.round((value / here) * 1e9) / 1e9);
  const index = found.indexOf(Math.max(...found));
  return {
    load: table.loads[index],
    chance: chanceAt(table, spot, index) / here,
    made: bestBranch(table, after(table, spot, index, true)),
    missed: bestBranch(table, after(table, spot, index, false)),
  };
}

function grid(belief, named) {
  const { step, median } = belief;
  const low = Math.min(belief.limits.lowest * median, ...named);
  const high = Math.max(belief.limits.highest * median, ...named.map((load) => load + 2 * step));
  const loads = [];
  for (let i = Math.floor(low / step); i <= Math.ceil(high / step); i += 1) loads.push(i * step);
  return sorted([...loads, ...named].map((load) => Math.round(load * 1000) / 1000));
}

// Results that are next to impossible move the estimate to the day.
export function moved(belief, taken) {
  const loads = sorted(taken.map((one) => one.load));
  const table = board(belief, loads, loads, 0);
  if (sum(start(table, taken).cells) >= belief.limits.surprise) return belief;
  const last = taken.at(-1);
  return { ...belief, median: last.load * Math.exp(last.made ? belief.sd : -belief.sd), surprised: true };
}

// A worth that shies from misses (-1) or reaches for the heavy third (+1).
function leaning(belief, sign) {
  return (kg) => sign * Math.exp(sign * belief.lean * (Math.max(kg / belief.median, belief.limits.bomb_share) - 1));
}

const loadsIfMade = (branch) => (branch ? [branch.load, ...loadsIfMade(branch.made)] : []);
const same = (a, b) => loadsIfMade(a).join() === loadsIfMade(b).join();

// A careful plan is only ever walked along: nothing outside it is suggested.
function walked(root, taken) {
  let at = root;
  for (const { load, made } of taken) {
    if (!at || Math.abs(at.load - load) > 1e-6) return null;
    at = made ? at.made : at.missed;
  }
  return at;
}

// Plans of the attempts left, each { name, root }; taken is [{ load, made }, ...] in order.
export function plansAfter(belief, taken) {
  if (!belief || !belief.median || taken.length >= belief.limits.attempts) return [];
  if (!taken.length) return belief.plans;
  if (belief.careful) {
    const root = walked(belief.plans[0]?.root, taken);
    return root ? [{ name: "careful", root }] : [];
  }
  const day = moved(belief, taken);
  const loads = grid(day, taken.map((one) => one.load));
  const found = [];
  for (const [name, worth] of [["main", (kg) => kg], ["safer", leaning(day, -1)], ["bolder", leaning(day, 1)]]) {
    const table = board(day, loads, loads.map(worth), worth(0));
    const root = bestBranch(table, start(table, taken));
    if (root && (name === "main" || found.every((one) => !same(one.root, root)))) found.push({ name, root });
  }
  return found;
}

// The chance of any load as the next attempt after the results so far; null when nothing is known.
export function chanceOf(belief, taken, load) {
  if (!belief || !belief.median || taken.length >= belief.limits.attempts || !(load > 0)) return null;
  const day = taken.length ? moved(belief, taken) : belief;
  const loads = sorted([...taken.map((one) => one.load), load]);
  const table = board(day, loads, loads, 0);
  const spot = start(table, taken);
  return chanceAt(table, spot, loads.indexOf(load)) / sum(spot.cells);
}

// "about 7 in 10", in the words of the server.
export function chanceWords(chance) {
  if (chance >= 0.985) return "about 49 in 50";
  if (chance >= 0.925) return "about 19 in 20";
  if (chance >= 0.05) return `about ${Math.max(Math.round(chance * 10), 1)} in 10`;
  return chance >= 0.02 ? "about 1 in 30" : "less than 1 in 50";
}
