// On pages without a signed-in person: lock what waits on this phone and show how much it is.

import { countWords, lockOthers } from "./lock.js";

const count = await lockOthers("").catch(() => 0);
if (count) {
  const note = document.createElement("p");
  note.className = "messages floor-locked";
  note.setAttribute("role", "status");
  note.textContent = countWords(count);
  document.querySelector("main").prepend(note);
}
document.body.dataset.locked = "done";
