// Keeps the board and its files for when there is no network. VERSION and KEPT are written above by the server.
// The boards, tonight's and each meet's, are kept per owner (user and club); a sign-in or sign-out, or a page of another owner, throws it away.

const SHELL = `floor-shell-${VERSION}`;
const PAGES = "floor-page-";
const BOARD = "/tonight/";
const LONGEST_COPY = 18 * 3600 * 1000; // ms
const MEET_BOARD = /^\/meets\/\d+\/board\/$/;
const DOORS = ["/sign-in/", "/sign-out/", "/join/", "/password-reset/", "/account/sessions/"];
const NO_NETWORK = `<!doctype html><html lang="en-GB"><meta charset="utf-8"><meta name="viewport" content="width=device-width, initial-scale=1">
<title>No network</title><h1>No network</h1><p>This page needs it. <a href="${BOARD}">Tonight's board</a> opens without, if it was open here before.</p></html>`;

self.addEventListener("install", (event) => {
  event.waitUntil(caches.open(SHELL).then((cache) => cache.addAll(KEPT.map((url) => new Request(url, { cache: "reload" })))));
  self.skipWaiting();
});

self.addEventListener("activate", (event) => {
  event.waitUntil(dropShells().then(() => self.clients.claim()));
});

self.addEventListener("message", (event) => {
  if (event.data?.owner !== undefined) event.waitUntil(dropPages(event.data.owner));
});

self.addEventListener("fetch", (event) => {
  const { request } = event;
  const url = new URL(request.url);
  if (url.origin !== self.location.origin) return;
  if (request.method === "POST" && DOORS.some((door) => url.pathname.startsWith(door))) {
    event.waitUntil(dropPages(null));
  } else if (request.method === "GET" && KEPT.includes(url.pathname)) {
    event.respondWith(file(request, url));
  } else if (request.mode === "navigate" && request.method === "GET") {
    event.respondWith(url.pathname === BOARD || MEET_BOARD.test(url.pathname) ? board(request, url.pathname) : page(request));
  }
});

async function dropShells() {
  const names = await caches.keys();
  await Promise.all(names.filter((n) => n.startsWith("floor-shell-") && n !== SHELL).map((n) => caches.delete(n)));
}

async function dropPages(owner) {
  const names = await caches.keys();
  await Promise.all(names.filter((n) => n.startsWith(PAGES) && n !== PAGES + owner).map((n) => caches.delete(n)));
}

async function file(request, url) {
  const cache = await caches.open(SHELL);
  const kept = await cache.match(url.pathname);
  return kept ?? fetch(request);
}

async function page(request) {
  try {
    return await fetch(request);
  } catch {
    return new Response(NO_NETWORK, { status: 503, headers: { "Content-Type": "text/html; charset=utf-8" } });
  }
}

async function board(request, path) {
  const patience = new Promise((resolve) => setTimeout(resolve, 5000, null));
  const fresh = fetch(request).then((answer) => keepBoard(answer, path)).catch(() => null);
  const first = await Promise.race([fresh, patience]);
  return first ?? (await keptBoard(path)) ?? (await fresh) ?? page(request);
}

async function keepBoard(answer, path) {
  const owner = answer.headers.get("X-Floor-Owner");
  if (answer.ok && owner) {
    await dropPages(owner);
    const cache = await caches.open(PAGES + owner);
    await cache.put(path, answer.clone());
  }
  return answer.status >= 502 && answer.status <= 504 ? null : answer;
}

// A copy serves one evening: an older one is thrown away, because nobody knows any more who holds the phone.
async function keptBoard(path) {
  const name = (await caches.keys()).find((n) => n.startsWith(PAGES));
  const kept = name && (await (await caches.open(name)).match(path));
  if (!kept) return undefined;
  const age = Date.now() - Date.parse(kept.headers.get("Date") ?? "");
  if (age <= LONGEST_COPY) return kept;
  await dropPages(null);
  return undefined;
}
