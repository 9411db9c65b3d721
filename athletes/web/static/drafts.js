// Keeps what was typed in a form in this tab until a page shows that it arrived, and puts it back where it did not:
// after an error, a lost connection, or a session that ended meanwhile. For one person, at most two hours, and never
// passwords, codes or files. Signing out throws it away.

const KEY = "draft";
const LONGEST = 2 * 60 * 60 * 1000;
const UNTYPED = ["hidden", "password", "file", "submit", "button", "image", "reset"];
const DOORS = ["/sign-out/", "/account/sessions/end/"];
const reader = document.querySelector("meta[name=reader]")?.content ?? "";
const here = location.pathname + location.search;

const read = () => JSON.parse(sessionStorage.getItem(KEY) ?? "null");
const keep = (draft) => sessionStorage.setItem(KEY, JSON.stringify(draft));
const drop = () => sessionStorage.removeItem(KEY);
const isChoice = (field) => ["checkbox", "radio"].includes(field.type);
const isPost = (form) => form.getAttribute("method")?.toLowerCase() === "post";
const goesTo = (form, pressed) =>
  new URL(pressed?.getAttribute("formaction") || form.getAttribute("action") || "", location.href).pathname;
const isTyped = (field) =>
  field.name && ["INPUT", "SELECT", "TEXTAREA"].includes(field.tagName) &&
  !UNTYPED.includes(field.type) && field.getAttribute("autocomplete") !== "one-time-code";
const typed = (form) => [...form.elements].filter(isTyped);

function sent({ target: form, submitter, defaultPrevented }) {
  if (!isPost(form)) return;
  const to = goesTo(form, submitter);
  if (DOORS.includes(to)) return drop();
  if (defaultPrevented) return;
  const fields = typed(form).map((field) => [field.name, field.value, isChoice(field) ? field.checked : null]);
  const before = read();
  if (fields.length) keep({ reader, here, to: goesTo(form), at: Date.now(), failed: false, fields });
  else if (before) keep({ ...before, failed: false }); // the page that carries it has sent it again
}

function put(form, fields) {
  const left = typed(form);
  let changed = false;
  for (const [name, value, checked] of fields) {
    const place = left.findIndex((field) => field.name === name && (checked === null) !== isChoice(field) && (checked === null || field.value === value));
    if (place < 0) continue;
    const [field] = left.splice(place, 1);
    if (checked === null ? field.value === value : field.checked === checked) continue;
    if (checked === null) field.value = value;
    else field.checked = checked;
    field.dispatchEvent(new Event("input", { bubbles: true }));
    field.dispatchEvent(new Event("change", { bubbles: true }));
    changed = true;
  }
  return changed;
}

function say(form) {
  const box = document.createElement("div");
  box.className = "note";
  box.setAttribute("role", "status");
  const words = document.createElement("p");
  words.textContent = "What you typed here before is back in the form: it may not have arrived. Look before you send it.";
  const away = document.createElement("button");
  away.type = "button";
  away.className = "quiet";
  away.textContent = "Throw it away";
  away.addEventListener("click", () => {
    drop();
    location.assign(location.href);
  });
  box.append(words, away);
  form.before(box);
}

function putBack(draft) {
  const form = [...document.forms].find((one) => isPost(one) && goesTo(one) === draft.to && typed(one).length);
  if (form && put(form, draft.fields)) say(form);
}

function look() {
  const draft = read();
  if (!draft) return;
  if (draft.reader !== reader || Date.now() - draft.at > LONGEST) return drop();
  const main = document.querySelector("main");
  if ("unkept" in main.dataset) return keep({ ...draft, failed: true });
  // A page that answers a form shows itself what was typed; one that was led to after it says that it arrived.
  const answer = "answer" in main.dataset;
  const ledHere = performance.getEntriesByType("navigation")[0]?.redirectCount > 0;
  if (!answer && draft.here === here && (draft.failed || !ledHere)) putBack(draft);
  else if (answer || !draft.failed) drop();
}

try {
  look();
  window.addEventListener("submit", sent);
} catch {
  // no storage in this browser: the browser's own back button has to do
}
