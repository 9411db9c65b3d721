// On every page of a signed-in person: keep the board's helper running, send what waits, and warn at sign-out.

import { countWords, lockOthers } from "./lock.js";
import { openQueue } from "./queue.js";
import { makeSender } from "./sync.js";

const owner = document.querySelector("meta[name=floor-owner]")?.content ?? "";

async function helper() {
  if (!("serviceWorker" in navigator)) return;
  const registration = await navigator.serviceWorker.register("/sw.js", { scope: "/" });
  const worker = registration.active ?? registration.waiting ?? registration.installing;
  worker?.postMessage({ owner });
}

function warn(form, count) {
  const words = count === 1 ? "1 entry waits" : `${count} entries wait`;
  const box = document.createElement("dialog");
  box.className = "leaving";
  const text = document.createElement("p");
  text.textContent = `${words} on this phone and has not reached the server. Signed out, it stays here and is sent when you sign in on this phone again.`;
  const stay = document.createElement("button");
  stay.textContent = "Stay signed in";
  stay.addEventListener("click", () => box.close());
  const leave = document.createElement("button");
  leave.textContent = "Sign out anyway";
  leave.className = "quiet";
  leave.addEventListener("click", () => form.submit());
  box.append(text, stay, leave);
  box.addEventListener("close", () => box.remove());
  document.body.append(box);
  box.showModal();
}

function showOthers(count) {
  const note = document.createElement("p");
  note.className = "messages floor-locked";
  note.setAttribute("role", "status");
  note.textContent = countWords(count);
  document.querySelector("main").prepend(note);
}

async function start() {
  helper().catch(() => {});
  const others = await lockOthers(owner);
  if (others) showOthers(others);
  if (!owner || !("indexedDB" in window)) return;
  const queue = await openQueue(owner);
  const onBoard = document.querySelector("#floor-state") !== null;
  const [user, club] = owner.split("-").map(Number);
  if (!onBoard) makeSender(queue, { user, club }).keepTrying();
  let waits = (await queue.all()).length;
  queue.onChange(async () => {
    waits = (await queue.all()).length;
  });
  document.addEventListener("submit", (event) => {
    const action = new URL(event.target.action, location.href).pathname;
    if (action === "/sign-out/" && waits) {
      event.preventDefault();
      warn(event.target, waits);
    }
  });
}

start().catch(() => {});
