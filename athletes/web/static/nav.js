// Brings the current place into view in lists of places that scroll sideways, and marks the ends where there is more.

for (const list of document.querySelectorAll("nav .nav")) {
  const current = list.querySelector("[aria-current]");
  if (current) {
    const [outer, inner] = [list.getBoundingClientRect(), current.getBoundingClientRect()];
    list.scrollLeft += inner.left + inner.width / 2 - (outer.left + outer.width / 2);
  }
  const mark = () => {
    const hidden = list.scrollWidth - list.clientWidth;
    list.parentElement.classList.toggle("more-before", list.scrollLeft > 1);
    list.parentElement.classList.toggle("more-after", list.scrollLeft < hidden - 1);
  };
  list.addEventListener("scroll", mark, { passive: true });
  new ResizeObserver(mark).observe(list);
}
