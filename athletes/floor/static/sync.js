// Sends what waits, oldest first, one sender at a time, until every entry has an answer.
// The server writes an entry once however often it arrives, so after any doubt the same entries are sent again.

const AT_ONCE = 20;
const PATIENCE = 15000;

async function ask(url, options = {}) {
  return fetch(url, { credentials: "same-origin", cache: "no-store", signal: AbortSignal.timeout(PATIENCE), redirect: "error", ...options });
}

// Under a Web Lock, so that two tabs never send at once; plain http has no locks, and the server's ids suffice.
function alone(owner, work) {
  return navigator.locks ? navigator.locks.request(`floor-send-${owner}`, work) : work();
}

export function makeSender(queue, { user, club }, hear = () => {}) {
  let state = "idle";
  let busy = false;
  let again = false;

  const become = (next, answers = []) => {
    state = next;
    hear(state, answers);
  };

  async function freshToken() {
    const answer = await ask("/floor/token/");
    if (answer.status === 401) return become("signed-out");
    if (!answer.ok) return become("down");
    const told = await answer.json();
    if (told.owner !== queue.owner) return become("other");
    return told.token;
  }

  async function settle(batch, answers) {
    const byUid = new Map(answers.map((answer) => [answer.uid, answer]));
    for (const entry of batch) {
      const answer = byUid.get(entry.uid);
      if (!answer) continue;
      if (answer.status === "stored" || answer.status === "already") await queue.remove(entry.seq);
      else await queue.put({ ...entry, status: answer.status, why: answer.why });
    }
  }

  async function post(batch, token) {
    return ask("/floor/entries/", {
      method: "POST",
      headers: { "Content-Type": "application/json", "X-CSRFToken": token },
      body: JSON.stringify({ user, club, entries: batch.map(({ seq, status, why, name, told, ...entry }) => entry) }),
    });
  }

  // One round; true when there may be more to send.
  async function round(size, token) {
    const waiting = (await queue.all()).filter((entry) => entry.status === "waiting");
    if (!waiting.length) return become("idle");
    become("sending");
    const batch = waiting.slice(0, size.now);
    const answer = await post(batch, token);
    if (answer.status === 401) return become("signed-out");
    if (answer.status === 403) return become((await answer.text()).includes("not-yours") ? "other" : "down");
    if (answer.ok) {
      const { done } = await answer.json();
      await settle(batch, done);
      hear("sending", done);
      return true;
    }
    if (answer.status >= 500) return become("down");
    if (size.now > 1) size.now = 1;
    else await queue.put({ ...batch[0], status: "refused", why: `The server could not read this entry (${answer.status}).` });
    return true;
  }

  async function rounds() {
    const waiting = (await queue.all()).some((entry) => entry.status === "waiting");
    if (!waiting) return become("idle");
    const token = await freshToken();
    const size = { now: AT_ONCE };
    while (token && (await round(size, token)));
  }

  async function send() {
    if (busy) {
      again = true;
      return;
    }
    busy = true;
    try {
      do {
        again = false;
        await alone(queue.owner, rounds);
      } while (again && state === "idle");
    } catch {
      become("down");
    } finally {
      busy = false;
    }
  }

  // A server that is down raises no event, so it is tried again on a timer too.
  function keepTrying() {
    setInterval(send, 4000);
    window.addEventListener("online", send);
    window.addEventListener("pageshow", send);
    document.addEventListener("visibilitychange", () => document.visibilityState === "visible" && send());
    send();
  }

  return { send, keepTrying, state: () => state };
}
