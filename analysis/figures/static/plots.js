// Plotted figures: the library is loaded once, when the first figure comes near; colours come from the style sheet.
const figures = [...document.querySelectorAll("[data-plot]")];
let library = null;
// Elements of style that plotly leaves out when it finds one of that name; the policy would refuse them. The second
// is for maps, which no page has (tests/test_static_files.py compares both with the installed script).
const OWN_SHEET = "plotly.js-style-global";
const MAP_SHEET = "9f215cf04c5486422605d13261cb87401f4e7763b6296af81e98efbc0130da53";

function bundle(figure) {
  library ??= new Promise((resolve, reject) => {
    const sheet = document.createElement("link");
    sheet.rel = "stylesheet";
    sheet.id = OWN_SHEET;
    sheet.href = figure.dataset.sheet;
    const maps = document.createElement("meta");
    maps.id = MAP_SHEET;
    const script = document.createElement("script");
    script.src = figure.dataset.bundle;
    script.addEventListener("load", () => resolve(window.Plotly));
    script.addEventListener("error", reject);
    document.head.append(sheet, maps, script);
  });
  return library;
}

function coloured(value, styles) {
  if (Array.isArray(value)) return value.map((item) => coloured(item, styles));
  if (value && typeof value === "object") {
    return Object.fromEntries(Object.entries(value).map(([key, item]) => [key, coloured(item, styles)]));
  }
  if (typeof value !== "string") return value;
  const name = /^var\((--[a-z-]+?)(-tint)?\)$/.exec(value);
  if (!name) return value;
  const colour = styles.getPropertyValue(name[1]).trim();
  return name[2] ? thinned(colour) : colour;
}

// The ground of a range: the style's colour at a sixth of its strength.
function thinned(colour) {
  const parts = /^#([0-9a-f]{2})([0-9a-f]{2})([0-9a-f]{2})$/i.exec(colour);
  return parts ? `rgba(${parts.slice(1).map((part) => Number.parseInt(part, 16)).join(",")},0.16)` : colour;
}

function narrow(layout, figure) {
  const small = figure.clientWidth < 520;
  return small ? { ...layout, margin: { ...layout.margin, l: 44 }, font: { ...layout.font, size: 13 } } : layout;
}

async function draw(figure) {
  const given = JSON.parse(document.getElementById(figure.dataset.plot).textContent);
  const plotly = await bundle(figure);
  const { data, layout } = coloured(given, getComputedStyle(document.documentElement));
  await plotly.react(figure, data, narrow(layout, figure), { displayModeBar: false, responsive: true });
  figure.dataset.drawn = "yes";
}

// The place stays reserved, so that nothing below moves.
function missing(figure) {
  const words = document.createElement("p");
  words.className = "plot-missing";
  words.textContent = "The picture could not be loaded; its numbers stand below.";
  figure.replaceChildren(words);
}

function drawAgain() {
  figures.filter((figure) => figure.dataset.drawn).forEach(draw);
}

function save(address, name) {
  const link = document.createElement("a");
  link.href = address;
  link.download = name;
  link.click();
}

// A cell that a spreadsheet would take for a formula gets an apostrophe; a plain negative number does not.
function cell(text) {
  const clean = text.trim().replace(/\s+/g, " ");
  const guarded = /^[=+\-@]/.test(clean) && !/^-?[\d.,]+$/.test(clean) ? `'${clean}` : clean;
  return /[",\n]/.test(guarded) ? `"${guarded.replaceAll('"', '""')}"` : guarded;
}

function csv(key) {
  const rows = document.querySelectorAll(`[data-table="${key}"] tr`);
  const text = [...rows].map((row) => [...row.cells].map((item) => cell(item.textContent)).join(",")).join("\r\n");
  const address = URL.createObjectURL(new Blob(["\ufeff", text, "\r\n"], { type: "text/csv" }));
  save(address, `${key}.csv`);
  setTimeout(() => URL.revokeObjectURL(address), 1000);
}

async function png(key) {
  const figure = document.querySelector(`[data-plot="plot-${key}"]`);
  if (!figure.dataset.drawn) await draw(figure);
  const plotly = await bundle(figure);
  const paper = getComputedStyle(document.documentElement).getPropertyValue("--sheet").trim();
  const picture = { data: figure.data, layout: { ...figure.layout, paper_bgcolor: paper } };
  save(await plotly.toImage(picture, { format: "png", width: 1000, height: 560, scale: 2 }), `${key}.png`);
}

const near = new IntersectionObserver(
  (entries) => {
    for (const entry of entries.filter((item) => item.isIntersecting)) {
      near.unobserve(entry.target);
      const figure = entry.target.querySelector("[data-plot]");
      draw(figure).catch(() => missing(figure));
    }
  },
  { rootMargin: "300px" },
);
for (const figure of figures) near.observe(figure.closest("figure"));
for (const row of document.querySelectorAll(".plot-actions")) row.hidden = false;
document.addEventListener("click", (event) => {
  const button = event.target.closest("[data-save]");
  if (button) (button.dataset.save === "csv" ? csv : png)(button.dataset.of);
});
matchMedia("(prefers-color-scheme: dark)").addEventListener("change", drawAgain);
addEventListener("beforeprint", drawAgain);
