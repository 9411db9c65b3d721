// "Undo" stands for ten seconds after a reason was set aside; while it is under the finger or focused it stays.

const SECONDS = 10;

for (const form of document.querySelectorAll(".undo")) {
  const leave = () => {
    if (form.matches(":hover, :focus-within")) setTimeout(leave, 1000);
    else form.remove();
  };
  setTimeout(leave, SECONDS * 1000);
}
