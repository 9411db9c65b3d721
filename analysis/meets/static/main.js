// The handler's board: the server's state, this phone's queue, and what joins them. It works on without network.

import { newUid, openQueue } from "../floor/queue.js";
import { notBefore, setSkew, skewFrom, stamp } from "../floor/clock.js";
import { leaveForSignIn } from "../floor/lock.js";
import { makeSender } from "../floor/sync.js";
import { freshened, seen, stands } from "./board.js";
import { card, element } from "./card.js";
import { order, places, secondsLeft, subtotal } from "./rules.js";

const POLL = 10000;
const embedded = JSON.parse(document.querySelector("#meet-state").textContent);
const place = document.querySelector("#meet-board");
const statusBox = document.querySelector("#meet-status");
const trouble = document.querySelector("#meet-trouble");
const totals = document.querySelector("#meet-totals");
const typing = new Map();
let base = embedded;
let entries = [];
let known = new Map();
let lift = embedded.lift;
let queue = null;
let sender = null;
let skew = 0;

const now = () => Date.now() + skew;
const mine = (list) => list.filter((one) => one.kind === "attempt" && one.meet === base.meet);
const keptOf = (id) => {
  const key = `${id} ${lift}`;
  if (!typing.has(key)) typing.set(key, {});
  return typing.get(key);
};

// Say something of an attempt: kept on the phone first, then sent.
async function say(entry, which, number, load, result, reason) {
  if (entry === null) return redraw();
  const current = entry.attempts.find((one) => one.lift === which && one.number === number);
  await queue.add({
    uid: newUid(), kind: "attempt", meet: base.meet, entry: entry.id, name: entry.name, lift: which, number,
    load_typed: load.load_typed, load_unit: load.load_unit, load_kg: load.load_kg, result, reason, at: stamp(), saw: stands(current),
  });
  sender.send();
}

function redraw() {
  const meet = seen(base, entries);
  const keys = meet.lifts.map((one) => one.key);
  const turn = order(meet.entries, lift, meet.rules).map((one) => one.id);
  const rank = (entry) => (turn.includes(entry.id) ? turn.indexOf(entry.id) : turn.length + 1);
  const open = new Set([...place.querySelectorAll("details[open]")].map((one) => one.dataset.of));
  const focus = document.activeElement?.name === "load_typed" ? document.activeElement.closest("article")?.id : null;
  const sorted = [...meet.entries].sort((a, b) => rank(a) - rank(b));
  place.replaceChildren(...sorted.map((entry) => card(entry, meet, lift, turn.indexOf(entry.id), keptOf(entry.id), say)));
  place.querySelectorAll("details").forEach((one) => {
    one.open ||= open.has(one.dataset.of);
  });
  if (focus) place.querySelector(`#${focus} input`)?.focus();
  drawTotals(meet, keys);
  drawStatus();
  drawTrouble();
  tick();
}

function drawTotals(meet, keys) {
  const ranked = places(meet.entries, keys);
  const rest = meet.entries.filter((entry) => !ranked.some((row) => row.entry.id === entry.id));
  const list = element("ul");
  ranked.forEach((row) => list.append(element("li", "", `${row.entry.name}: ${row.total} kg, ${row.shared ? "equal " : ""}place ${row.place}`)));
  rest.forEach((entry) => {
    const before = subtotal(entry, keys);
    list.append(element("li", "", `${entry.name}: ${before ? `subtotal ${before} kg` : "no total yet"}`));
  });
  totals.replaceChildren(list);
}

function statusWords(count) {
  const waits = `${count} waiting on this phone`;
  const how = sender?.state();
  if (how === "other" && count) return `${waits}. Somebody else is signed in; they wait for ${base.viewer}.`;
  if (count) return how === "sending" ? `${waits}, sending` : `${waits}; sent when the network is back`;
  return how === "down" || !navigator.onLine ? "No network: the board works on, and what you say waits on this phone" : "All sent";
}

function drawStatus() {
  const count = mine(entries).filter((one) => one.status === "waiting").length;
  statusBox.hidden = false;
  statusBox.dataset.waiting = count;
  const words = statusWords(count);
  if (statusBox.textContent !== words) statusBox.textContent = words;
}

function drawTrouble() {
  const odd = mine(entries).filter((one) => one.status === "conflict" || one.status === "refused");
  trouble.hidden = !odd.length;
  trouble.replaceChildren(...odd.map((one) => {
    const box = element("div", "asks");
    const result = one.result ? `, ${base.results[one.result]}` : ", handed in";
    box.append(element("p", "", `${one.name ?? "A lifter"}, attempt ${one.number}: you said ${one.load_typed} ${one.load_unit}${result}. ${one.why ?? ""}`));
    const again = element("button", "quiet", one.status === "conflict" ? "Mine is right: write it" : "Try again");
    again.addEventListener("click", async () => {
      await queue.put({ ...one, status: "waiting", why: "", sure: one.status === "conflict" });
      sender.send();
    });
    const drop = element("button", "quiet", "Drop mine");
    drop.addEventListener("click", () => {
      known.delete(one.uid);
      queue.remove(one.seq);
    });
    const row = element("div", "row-actions");
    row.append(again, drop);
    box.append(row);
    return box;
  }));
}

// Entries that left the queue without being dropped were written: they become part of what the server is known to hold.
async function takeStock() {
  const fresh = mine(await queue.all());
  const left = new Set(fresh.map((one) => one.uid));
  const written = [...known.values()].filter((one) => !left.has(one.uid) && one.status === "waiting");
  if (written.length) {
    base = { ...seen(base, written), now: stamp() };
    queue.keep(`meet-${base.meet}`, base);
  }
  known = new Map(fresh.map((one) => [one.uid, one]));
  entries = fresh;
  notBefore(entries);
  redraw();
}

function tick() {
  const meet = seen(base, entries);
  place.querySelectorAll("[data-clock]").forEach((node) => {
    const entry = meet.entries.find((one) => String(one.id) === node.dataset.clock);
    const left = entry && secondsLeft(entry, lift, meet.rules, now());
    node.hidden = left === null || left === undefined;
    if (!node.hidden) node.textContent = left > 0 ? `${Math.ceil(left)} s to hand in the next attempt` : "The time to hand in is over";
  });
  tickBeginnings(meet.rules.seconds_to_start);
}

// The phone's own clock: it was started on this phone.
function tickBeginnings(seconds) {
  place.querySelectorAll("[data-begin]").forEach((node) => {
    const left = seconds - (Date.now() - Number(node.dataset.begin)) / 1000;
    node.textContent = left > 0 ? `${Math.ceil(left)} s to begin the lift` : "The time to begin is over";
  });
}

async function poll() {
  if (document.visibilityState !== "visible" || mine(entries).length) return;
  const asked = Date.now();
  try {
    const answer = await fetch(`/meets/${base.meet}/state/`, { cache: "no-store", credentials: "same-origin", redirect: "error" });
    if (!answer.ok || mine(await queue.all()).length) return;
    const told = await answer.json();
    trueClock(told.now, asked);
    const next = freshened(base, told);
    if (next === null) {
      await queue.keep(`meet-${base.meet}`, null);
      location.reload();
      return;
    }
    const same = JSON.stringify(next.entries) === JSON.stringify(base.entries);
    base = next;
    queue.keep(`meet-${base.meet}`, base);
    if (!same) redraw(); // nothing is drawn anew under a thumb without need
  } catch {
    drawStatus();
  }
}

function trueClock(serverTime, asked) {
  skew = skewFrom(serverTime, asked, Date.now());
  setSkew(skew);
}

function choose(event) {
  const link = event.target.closest("[data-lift]");
  if (!link) return;
  event.preventDefault();
  lift = link.dataset.lift;
  document.querySelectorAll("[data-lift]").forEach((one) => (one === link ? one.setAttribute("aria-current", "page") : one.removeAttribute("aria-current")));
  redraw();
}

async function begin() {
  queue = await openQueue(base.owner);
  const held = await queue.kept(`meet-${base.meet}`);
  if (held && new Date(held.now) > new Date(base.now) && held.entries.length === base.entries.length) base = held;
  sender = makeSender(queue, { user: base.user, club: base.club }, (how) => (how === "signed-out" ? leaveForSignIn() : drawStatus()));
  queue.onChange(takeStock);
  document.querySelector("#lift-tabs").addEventListener("click", choose);
  ["online", "offline"].forEach((name) => window.addEventListener(name, drawStatus));
  await takeStock();
  document.documentElement.dataset.meetReady = "yes";
  sender.keepTrying();
  poll();
  setInterval(poll, POLL);
  setInterval(tick, 500);
}

begin();
