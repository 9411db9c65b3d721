// A shared phone keeps no names and loads of a person who is not signed in: read copies are deleted, unsent entries stay
// in their author's own database without names and are only counted until the author signs in here again.

const FRONT = "floor-";
const KNOWN = "floor-owners"; // for browsers that cannot list their databases

const wrap = (request) =>
  new Promise((resolve, reject) => {
    request.onsuccess = () => resolve(request.result);
    request.onerror = () => reject(request.error);
  });

// Note that this owner has a database here.
export function noteOwner(owner) {
  localStorage.setItem(KNOWN, JSON.stringify([...new Set([...knownOwners(), owner])]));
}

// The owners noted here; a damaged note counts as none, so that the others are still locked.
function knownOwners() {
  try {
    const known = JSON.parse(localStorage.getItem(KNOWN) ?? "[]");
    return Array.isArray(known) ? known : [];
  } catch {
    return [];
  }
}

async function owners() {
  const known = knownOwners();
  const listed = indexedDB.databases ? (await indexedDB.databases()).map((one) => one.name) : [];
  const found = listed.filter((name) => name?.startsWith(FRONT)).map((name) => name.slice(FRONT.length));
  return [...new Set([...known, ...found])];
}

// Delete what was read, take the names out of what waits; returns how many entries wait.
async function lockOne(owner) {
  const request = indexedDB.open(FRONT + owner);
  let isNew = false;
  request.onupgradeneeded = () => {
    isNew = true;
    request.transaction.abort();
  };
  let db;
  try {
    db = await wrap(request);
  } catch (problem) {
    if (isNew) return 0;
    throw problem;
  }
  try {
    if (!db.objectStoreNames.contains("entries")) return 0;
    const change = db.transaction(["entries", "kept"], "readwrite");
    change.objectStore("kept").clear();
    const store = change.objectStore("entries");
    const waiting = await wrap(store.getAll());
    // The server's answer may hold a name and a load, so what it asked about waits again and is asked anew.
    waiting.forEach(({ name, told, why, ...entry }) => store.put({ ...entry, status: "waiting", why: "" }));
    await new Promise((resolve, reject) => {
      change.oncomplete = resolve;
      change.onabort = change.onerror = () => reject(change.error);
    });
    return waiting.length;
  } finally {
    db.close();
  }
}

// Lock what belongs to anybody but `owner` ("" when nobody is signed in); returns how many entries wait for their authors.
export async function lockOthers(owner) {
  if (!("indexedDB" in window)) return 0;
  if ("caches" in window) {
    const pages = (await caches.keys()).filter((name) => name.startsWith("floor-page-") && name !== `floor-page-${owner}`);
    await Promise.all(pages.map((name) => caches.delete(name)));
  }
  const others = (await owners()).filter((one) => one !== owner);
  const counts = await Promise.all(others.map(lockOne));
  return counts.reduce((sum, count) => sum + count, 0);
}

// Leave a page that shows names and loads once the server has said that nobody is signed in here.
export async function leaveForSignIn() {
  await lockOthers("");
  location.replace(`/sign-in/?next=${encodeURIComponent(location.pathname)}`);
}

export function countWords(count) {
  const what = count === 1 ? "1 unsent entry waits" : `${count} unsent entries wait`;
  return `${what} on this phone for the person who logged ${count === 1 ? "it" : "them"}; sent when they sign in here again.`;
}
