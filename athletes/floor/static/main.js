// Tonight's board: the server's state, this phone's queue, and what joins them.

import { draw, element, setsOf, setWords } from "./board.js";
import { notBefore, setSkew, skewFrom, stamp } from "./clock.js";
import { leaveForSignIn } from "./lock.js";
import { makePanel } from "./panel.js";
import { toKg } from "./plates.js";
import { newUid, openQueue } from "./queue.js";
import { makeSender } from "./sync.js";

const POLL = 8000;
const place = document.querySelector("#board");
const statusBox = document.querySelector("#floor-status");
const trouble = document.querySelector("#floor-trouble");
const embedded = JSON.parse(document.querySelector("#floor-state").textContent);
const pageTime = document.querySelector("#floor-time").dataset.now;
let state = embedded;
let entries = [];
let etag = "";
let queue = null;
let sender = null;
let panel = null;
let lastMine = null;
let troubleWords = "[]";

const lifterOf = (id) => state.lifters.find((one) => one.id === id);

function redraw() {
  draw(place, state, entries, (id) => panel.open(lifterOf(id), setsOf(lifterOf(id), entries)));
  drawWho();
  drawStatus();
  drawTrouble();
}

function drawWho() {
  document.querySelectorAll("#who input[name=here]").forEach((box) => {
    box.checked = lifterOf(Number(box.value))?.here ?? false;
  });
}

function statusWords(waiting) {
  const count = `${waiting} waiting on this phone`;
  const how = sender.state();
  if (how === "other" && waiting) return [`${count}. Somebody else is signed in; they wait for ${state.name}.`, ""];
  if (how === "sending" && waiting) return [`${count}, sending`, ""];
  if (waiting) return [`${count}; sent when the network is back`, ""];
  return [how === "down" || !navigator.onLine ? "No network; entries wait on this phone" : "All sent", ""];
}

function drawStatus() {
  const waiting = entries.filter((e) => e.status === "waiting").length;
  const [words, link] = statusWords(waiting);
  statusBox.hidden = false;
  statusBox.dataset.waiting = waiting;
  const text = statusBox.querySelector(".words");
  if (text.textContent !== words) text.replaceChildren(link ? Object.assign(element("a", "", words), { href: link }) : words);
  const undo = statusBox.querySelector(".undo");
  const known = lastMine && !entries.some((e) => e.kind === "undo" && e.set === lastMine.uid);
  undo.hidden = !known;
  if (known) undo.textContent = `Undo ${lastMine.words}`;
}

function drawTrouble() {
  const odd = entries.filter((e) => e.kind !== "attempt" && ["conflict", "clock", "refused"].includes(e.status)); // a meet's board asks about its own
  const words = JSON.stringify(odd);
  if (words === troubleWords) return; // what is asked stays in place under the thumb
  troubleWords = words;
  trouble.hidden = !odd.length;
  trouble.replaceChildren(element("h2", "", `Needs a look (${odd.length})`), ...odd.map(troubleBox));
}

function troubleBox(entry) {
  const box = element("div", "asks");
  const what = entry.kind === "set" ? `${entry.name}: ${setWords(entry.told)}. ` : `${entry.name}. `;
  box.append(element("p", "", what + (entry.why || "")));
  const row = element("div", "row-actions");
  row.append(...(entry.status === "clock" ? dayActions(entry) : twoActions(entry)));
  box.append(row);
  return box;
}

// The phone's clock was far off: the person says the day, today unless they change it.
function dayActions(entry) {
  const day = Object.assign(element("input"), { type: "date", value: state.day, max: state.day, required: true });
  const label = element("label", "", "Day ");
  label.append(day);
  const again = element("button", "quiet", "It was on this day");
  again.addEventListener("click", async () => {
    if (!day.reportValidity()) return;
    await queue.put({ ...entry, status: "waiting", why: "", day: day.value });
    sender.send();
  });
  const drop = element("button", "quiet", "Drop mine");
  drop.addEventListener("click", () => queue.remove(entry.seq));
  return [label, again, drop];
}

function twoActions(entry) {
  const again = element("button", "quiet", entry.status === "refused" ? "Try again" : entry.kind === "set" ? "Both happened: keep mine too" : "Take it back anyway");
  again.addEventListener("click", async () => {
    await queue.put({ ...entry, status: "waiting", why: "", sure: entry.status === "conflict" });
    sender.send();
  });
  const drop = element("button", "quiet", entry.status === "refused" ? "Drop mine" : entry.kind === "set" ? "The same set: drop mine" : "Leave it");
  drop.addEventListener("click", () => queue.remove(entry.seq));
  return [again, drop];
}

// What a queued set looks like on the board until the server tells it.
function told(uid, fields) {
  const made = fields.reps_made;
  const box = document.querySelector(`[data-where="${fields.miss_position}"]`);
  return {
    uid,
    mine: true,
    by: "",
    fields,
    load_typed: fields.load_typed,
    load_unit: fields.load_unit,
    load_kg: toKg(Number.parseFloat(fields.load_typed.replace(",", ".")), fields.load_unit),
    reps: made === fields.reps_tried ? String(made) : `${made} of ${fields.reps_tried}`,
    reps_tried: fields.reps_tried,
    effort: /^[\d.,-]+$/.test(fields.effort_typed) ? `RPE ${fields.effort_typed}` : fields.effort_typed,
    result: { made: "made", missed: "missed", "no-lift": "no lift (rule)", "not-tried": "not tried", "stopped-pain": "stopped" }[fields.result],
    made: fields.result === "made",
    where: fields.miss_position ? box?.getAttribute("aria-label") ?? "" : "",
    tags: { lift: fields.lift, style: fields.style, start: fields.start, paused: fields.paused },
  };
}

// An entry that was locked lost its names; they come back from the board of its author.
function withNames(entry) {
  if (entry.name !== undefined && (entry.kind !== "set" || entry.told)) return entry;
  const name = lifterOf(entry.athlete)?.name ?? "a lifter";
  return entry.kind === "set" ? { ...entry, name, told: told(entry.uid, entry.fields) } : { ...entry, name };
}

async function enqueue(entry) {
  await queue.add({ uid: newUid(), at: stamp(), ...entry });
  sender.send();
}

async function saveSet(lifter, fields) {
  const uid = newUid();
  const seen = lifter.sets.map((row) => row.uid);
  const row = told(uid, fields);
  lastMine = { uid, athlete: lifter.id, name: lifter.name, words: `${lifter.name} ${row.load_typed} ${row.load_unit}` };
  await queue.keep("last", lastMine);
  await enqueue({ uid, kind: "set", athlete: lifter.id, name: lifter.name, fields, seen, told: row });
}

async function undoLast() {
  const row = lifterOf(lastMine.athlete)?.sets.find((one) => one.uid === lastMine.uid);
  const kept = entries.find((e) => e.uid === lastMine.uid && e.status !== "waiting");
  if (kept) await queue.remove(kept.seq);
  else await enqueue({ kind: "undo", athlete: lastMine.athlete, name: lastMine.name, set: lastMine.uid, saw: row?.seen ?? "" });
  lastMine = null;
  await queue.keep("last", null);
  drawStatus();
}

// Answers of the server go on the board at once, before the next poll.
function hear(how, answers) {
  if (how === "signed-out") return leaveForSignIn();
  answers.forEach(({ status, set, uid }) => {
    if (status !== "stored" && status !== "already") return;
    const lifter = set && lifterOf(set.athlete);
    if (lifter && !lifter.sets.some((row) => row.uid === set.uid)) lifter.sets.push(set);
    const undone = entries.find((e) => e.uid === uid && e.kind === "undo");
    if (undone) for (const one of state.lifters) one.sets = one.sets.filter((row) => row.uid !== undone.set);
  });
  if (queue) redraw();
}

async function pull() {
  if (document.visibilityState !== "visible") return;
  const asked = Date.now();
  let answer;
  try {
    answer = await fetch("/floor/state/", { headers: etag ? { "If-None-Match": etag } : {}, cache: "no-store", signal: AbortSignal.timeout(10000) });
  } catch {
    return;
  }
  if (answer.status === 401) return leaveForSignIn();
  if (answer.headers.get("X-Server-Time")) {
    const skew = skewFrom(answer.headers.get("X-Server-Time"), asked, Date.now());
    setSkew(skew);
    await queue.keep("skew", skew);
  }
  if (answer.status !== 200) return;
  const fresh = await answer.json();
  if (fresh.owner !== queue.owner) return location.reload();
  etag = answer.headers.get("ETag") ?? "";
  state = withWaiting(fresh);
  await queue.keep("state", { state: fresh, at: asked });
  redraw();
}

// What was said about who is here and still waits counts before the server's word.
function withWaiting(fresh) {
  entries.filter((e) => e.kind === "here").forEach((e) => {
    const lifter = fresh.lifters.find((one) => one.id === e.athlete);
    if (lifter) lifter.here = e.here;
  });
  return fresh;
}

function wireWho() {
  document.querySelectorAll("#who input[name=here]").forEach((box) =>
    box.addEventListener("change", async () => {
      const lifter = lifterOf(Number(box.value));
      lifter.here = box.checked;
      redraw();
      await enqueue({ kind: "here", athlete: lifter.id, name: lifter.name, here: box.checked });
    }),
  );
  document.querySelectorAll(".no-script").forEach((part) => part.remove());
}

async function start() {
  queue = await openQueue(embedded.owner);
  entries = (await queue.all()).map(withNames);
  notBefore(entries);
  const skew = await queue.kept("skew");
  if (skew !== undefined) setSkew(skew);
  const kept = await queue.kept("state");
  if (kept && kept.at > new Date(pageTime).getTime()) state = kept.state;
  state = withWaiting(state);
  lastMine = (await queue.kept("last")) ?? null;
  sender = makeSender(queue, { user: embedded.user, club: embedded.club }, hear);
  panel = makePanel(document.querySelector("#panel"), embedded.plates, saveSet);
  queue.onChange(async () => {
    entries = (await queue.all()).map(withNames);
    redraw();
  });
  statusBox.querySelector(".undo").addEventListener("click", undoLast);
  wireWho();
  redraw();
  window.addEventListener("offline", drawStatus);
  window.addEventListener("online", pull);
  document.addEventListener("visibilitychange", pull);
  setInterval(pull, POLL);
  sender.keepTrying();
  await pull();
  document.body.dataset.floor = "ready";
}

start().catch((problem) => {
  statusBox.hidden = false;
  statusBox.querySelector(".words").textContent = "This browser cannot keep entries without network; use “Log a set” of each lifter instead.";
  console.warn(problem);
});
