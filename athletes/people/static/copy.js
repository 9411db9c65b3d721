// A button that copies the text of another element; it is shown only where the browser lets a page copy.
for (const button of document.querySelectorAll("[data-copies]")) {
  if (!navigator.clipboard) continue;
  button.hidden = false;
  button.addEventListener("click", async () => {
    const told = button.parentElement.querySelector("[data-copied]");
    try {
      await navigator.clipboard.writeText(document.getElementById(button.dataset.copies).textContent);
      told.textContent = "Copied.";
    } catch {
      told.textContent = "The browser did not let it be copied: select the link by hand.";
    }
  });
}
