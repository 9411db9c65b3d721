"""One look through the whole file before any line is read: what can only be decided for the file as a whole."""

import re
from collections.abc import Iterable
from dataclasses import dataclass, field
from datetime import date

from athletes.importing.comparing.plan import local_today
from athletes.importing.files.tables import table_path
from athletes.models import ImportBatch
from athletes.reader.cells.dates import numeric_parts, short_parts
from athletes.reader.file import FileFormat
from athletes.reader.headings import MASS

TYPICAL_LB = {315.0, 365.0, 405.0, 455.0, 495.0, 545.0, 585.0, 635.0}  # 45-lb plates on a 45-lb bar, and 25s
MAYBE_LB = {135.0, 185.0, 225.0, 275.0}
COMMA = re.compile(r"(?<![\d.,])\d{1,3},\d{1,2}(?![\d,.])")
POINT = re.compile(r"(?<![\d.,])\d{1,3}\.\d{1,2}(?![\d,.])")
BOTH = re.compile(r"\d\.\d{3},\d|\d,\d{3}\.\d")
BARE = re.compile(r"\s*-?(\d{2,3}(?:[.,]\d{1,2})?)\s*(?:[x×@].*)?", re.I)
GLUED = re.compile(r"\d\s*(?:kgs?|kilos?|lbs?|pounds|#)", re.I)
MOST_KEPT = 20_000
HEAVY_KG, LIGHT_LB = 125.0, 110.0  # middle body mass of a file from where its unit is asked about; calibration


@dataclass
class Seen:
    """What a look gathers."""

    rows: int = 0
    dates: set[str] = field(default_factory=set)
    loads: set[str] = field(default_factory=set)
    masses: set[str] = field(default_factory=set)
    marks: set[str] = field(default_factory=set)
    blanks_in_date: bool = False
    units: bool = False


def look(batch: ImportBatch) -> dict[str, object]:
    """Number of lines, decimal mark, order of day and month, and whether loads without a unit may be pounds."""
    seen = gather(batch)
    decimal = _decimal(seen.marks)
    return {
        "rows": seen.rows,
        "decimal": batch.options.get("decimal_given", decimal),
        "date_order": batch.options.get("date_order_given", _order(seen.dates, local_today(batch))),
        "fills": seen.blanks_in_date,
        "unit_in_doubt": _unit_in_doubt(batch, seen),
        "mass_in_doubt": _mass_in_doubt(batch, seen),
    }


def gather(batch: ImportBatch) -> Seen:
    """Read through the file once."""
    made = FileFormat(**batch.options["format"])
    mapping = batch.options["mapping"]
    dates = [i for i, f in enumerate(mapping) if f == "date"]
    loads = [i for i, f in enumerate(mapping) if f in ("load", "set", "effort") or f.startswith(("lift:", "on:"))]
    bare = [i for i in loads if mapping[i] != "effort" and not (batch.options["units"] + [""] * 400)[i]]
    units = [i for i, f in enumerate(mapping) if f == "unit"]
    fills = [i for i, f in enumerate(mapping) if f in ("date", "lift", "lifter")]
    masses = [i for i, f in enumerate(mapping) if f == MASS and not (batch.options["units"] + [""] * 400)[i]]
    seen = Seen(dates={f[3:] for f in mapping if f.startswith("on:")})
    for record in made.records(table_path(batch)):
        cells = record.cells
        seen.rows += record.line != made.heading_line
        _keep(seen.dates, cells, dates)
        _keep(seen.marks, cells, loads)
        if not any(i < len(cells) and cells[i].strip() for i in units):
            _keep(seen.loads, cells, bare)
            _keep(seen.masses, cells, masses)
        if not seen.blanks_in_date:
            seen.blanks_in_date = any(i >= len(cells) or not cells[i].strip() for i in fills)
    seen.blanks_in_date = seen.blanks_in_date or "date" not in mapping
    return seen


def _keep(kept: set[str], cells: list[str], columns: list[int]) -> None:
    for i in columns:
        if i < len(cells) and cells[i] and len(kept) < MOST_KEPT:
            kept.add(cells[i])


def _decimal(cells: Iterable[str]) -> str:
    commas = points = 0
    for cell in cells:
        if BOTH.search(cell):
            commas, points = commas + (cell.rfind(",") > cell.rfind(".")), points + (cell.rfind(".") > cell.rfind(","))
            continue
        commas += bool(COMMA.search(cell))
        points += bool(POINT.search(cell))
    if commas == points:
        return ""
    return "," if commas > points else "."


def _order(dates: Iterable[str], today: date) -> str:
    """ "dmy" or "mdy" when a day above 12 settles it for the whole file, "" when none does or they disagree."""
    dates = list(dates)
    if _year_may_be_first([parts for text in dates if (parts := short_parts(text))], today):
        return ""
    firsts, seconds = set(), set()
    for text in dates:
        numbers = numeric_parts(text)
        if numbers and numbers[2] != ".":
            firsts.add(numbers[0])
            seconds.add(numbers[1])
    day_first, month_first = any(n > 12 for n in firsts), any(n > 12 for n in seconds)
    if day_first == month_first:
        return ""
    return "dmy" if day_first else "mdy"


def _year_may_be_first(shorts: list[tuple[int, int, int]], today: date) -> bool:
    """Whether dates such as 26/03/04 are likelier to begin with their year than to end with it."""
    firsts, lasts = {s[0] for s in shorts}, {s[2] for s in shorts}
    year = today.year % 100
    if not shorts or min(firsts) <= 12 or max(firsts) > year or max(lasts) > 31:
        return False
    return len(lasts) > len(firsts) or (len(lasts) == len(firsts) and max(lasts) < year - 10)


def _mass_in_doubt(batch: ImportBatch, seen: Seen) -> bool:
    """Whether body masses without a unit may be pounds to kilogram lifters, or kilograms to pound lifters."""
    values = sorted(float(m[1].replace(",", ".")) for c in seen.masses if (m := BARE.fullmatch(c)))
    used = set(batch.club.athletes.values_list("weight_unit", flat=True))
    if not values or len(used) > 1:
        return bool(values)
    middle = values[len(values) // 2]
    return middle < LIGHT_LB if used == {"lb"} else middle > HEAVY_KG


def _unit_in_doubt(batch: ImportBatch, seen: Seen) -> bool:
    """Whether bare loads look like pounds to kilogram lifters, or like kilograms to pound lifters."""
    values = {float(m[1].replace(",", ".")) for c in seen.loads if not GLUED.search(c) and (m := BARE.fullmatch(c))}
    used = set(batch.club.athletes.values_list("weight_unit", flat=True))
    if len(used) > 1:
        return bool(values)
    if used == {"lb"}:
        return any(v % 2.5 == 0 and v % 5 != 0 for v in values) or (bool(values) and max(values) < 150)
    return bool(values & TYPICAL_LB) or len(values & MAYBE_LB) > 1 or any(v > 400 for v in values)
