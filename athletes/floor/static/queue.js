// What waits on this phone, kept in IndexedDB: one database per user and club, so another sign-in never opens it.

import { noteOwner } from "./lock.js";

const wrap = (request) =>
  new Promise((resolve, reject) => {
    request.onsuccess = () => resolve(request.result);
    request.onerror = () => reject(request.error);
  });

function open(owner) {
  const request = indexedDB.open(`floor-${owner}`, 1);
  request.onupgradeneeded = () => {
    const entries = request.result.createObjectStore("entries", { keyPath: "seq", autoIncrement: true });
    entries.createIndex("uid", "uid", { unique: true });
    request.result.createObjectStore("kept");
  };
  return wrap(request);
}

// An id made on the phone; randomUUID exists on secure pages only, the random bytes everywhere.
export function newUid() {
  const bytes = crypto.getRandomValues(new Uint8Array(16));
  bytes[6] = (bytes[6] & 0x0f) | 0x40;
  bytes[8] = (bytes[8] & 0x3f) | 0x80;
  const hex = [...bytes].map((b) => b.toString(16).padStart(2, "0")).join("");
  return [hex.slice(0, 8), hex.slice(8, 12), hex.slice(12, 16), hex.slice(16, 20), hex.slice(20)].join("-");
}

export async function openQueue(owner) {
  const db = await open(owner);
  noteOwner(owner);
  const news = "BroadcastChannel" in window ? new BroadcastChannel(`floor-${owner}`) : null;
  const listeners = new Set();
  const tell = () => {
    news?.postMessage("changed");
    listeners.forEach((listener) => listener());
  };
  if (news) news.onmessage = () => listeners.forEach((listener) => listener());

  async function write(change) {
    const transaction = db.transaction("entries", "readwrite", { durability: "strict" });
    change(transaction.objectStore("entries"));
    await new Promise((resolve, reject) => {
      transaction.oncomplete = resolve;
      transaction.onabort = transaction.onerror = () => reject(transaction.error);
    });
    tell();
  }

  const store = (mode = "readonly", name = "entries") => db.transaction(name, mode).objectStore(name);
  return {
    owner,
    onChange: (listener) => listeners.add(listener),
    add: (entry) => write((entries) => entries.add({ status: "waiting", ...entry })),
    put: (entry) => write((entries) => entries.put(entry)),
    remove: (seq) => write((entries) => entries.delete(seq)),
    all: () => wrap(store().getAll()),
    keep: (name, value) => wrap(store("readwrite", "kept").put(value, name)),
    kept: (name) => wrap(store("readonly", "kept").get(name)),
  };
}
