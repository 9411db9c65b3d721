// The server's time on this phone: the phone's own clock may be minutes off, and order must not depend on it.

let skew = 0;
let latest = 0;

export function setSkew(milliseconds) {
  skew = milliseconds;
}

// The skew from one answer: the server's time against the middle of the asking.
export function skewFrom(serverTime, asked, answered) {
  return new Date(serverTime).getTime() - (asked + answered) / 2;
}

// Never earlier than an entry that is already in the queue.
export function notBefore(entries) {
  entries.forEach((entry) => {
    latest = Math.max(latest, new Date(entry.at).getTime() || 0);
  });
}

// Now by the server's clock, at least a tenth of a second after the entry before.
export function stamp() {
  latest = Math.max(latest + 100, Date.now() + skew);
  return new Date(latest).toISOString();
}
