"""The columns of a log: what headings mean, and the fields our own export writes.

A mapping is one string per column: a field name, "" for a column that is left aside, "set" for whole sets in a cell,
"lift:<heading>" for a column that holds sets of the lift its heading names, "on:<date>" for one named by a date.
"""

import re
import unicodedata
from collections.abc import Sequence

from .cells.dates import looks_like_date
from .cells.lifts import read_lift
from .cells.numbers import read_number, tidy
from .cells.results import WORDS as RESULT_WORDS
from .cells.sets import read_sets

HEADINGS: dict[str, str] = {
    "date": "date day datum fecha data when jour dato päivä päiväys дата 日付 training-date session-date "
    "performed-on performed-at",
    "lifter": "lifter athlete name who person lifter-name athlete-name heber athlet sportler nom athlète "
    "atleta nombre nome "
    "levantador nimi lyfter naam имя full-name member",
    "lift": "lift exercise exercise-name movement übung uebung exercice mouvement ejercicio esercizio "
    "exercício exercicio "
    "oefening övning liike ćwiczenie упражнение type-of-lift lift-name",
    "style": "style stance stil stance-style",
    "load": "load weight kg lb lbs load-kg weight-kg weight-lb weight-lbs load-lb gewicht last poids charge "
    "peso carga carico gewicht-kg "
    "poids-kg peso-kg vikt vekt paino ciężar вес bar-weight weight-lifted load-typed amount kilos pounds",
    "unit": "unit units einheit unité unidad unità weight-unit load-unit uom",
    "sets": "sets set-count no-of-sets number-of-sets sätze saetze séries series serie séries-nb",
    "reps": "reps rep repetitions repeats wdh wiederholungen répétitions repetitions-count repeticiones "
    "reps-made made-reps "
    "ripetizioni repetições repetisjoner repetitioner toistot powtórzenia повторения r",
    "tried": "tried reps-tried reps-attempted attempted-reps",
    "effort": "effort rpe @ intensity-rpe exertion rpe-typed anstrengung",
    "rir": "rir reps-in-reserve reserve",
    "result": "result outcome made success made? good? ergebnis résultat resultat resultado risultato status "
    "gültig lights",
    "note": "note notes comment comments remark remarks bemerkung bemerkungen notiz kommentar commentaire notas nota "
    "comentario osservazioni memo",
    "set": "set satz sets-and-reps sets-x-reps set-text work scheme sets-reps workout what-was-done entry log "
    "line performed top-set",
    "bar": "bar bar-name bar-used stange barre barra",
    "bar_kind": "bar-kind bar-type",
    "start": "start starts-from start-position",
    "start_height": "start-height block-height deficit-height height-of-block",
    "start_unit": "start-height-unit",
    "disc": "disc-diameter-cm plate-diameter-cm disc-diameter",
    "grip": "grip griff prise agarre presa",
    "kit": "kit equipment gear ausrüstung équipement equipo equip",
    "straps": "straps zughilfen sangles",
    "belt": "belt gürtel ceinture",
    "suit": "suit",
    "dead_stop": "dead-stop",
    "paused": "paused",
    "shape": "back shape back-shape",
    "shape_region": "back-region shape-region",
    "miss_position": "miss-position missed-at where-missed",
    "second_position": "second-miss-position second-position",
    "gave_way": "gave-way what-gave-way miss-reason",
    "slowest_at": "slowest-at sticking-point",
    "rule_reason": "rule-reason no-lift-reason",
    "what_changed": "what-changed",
    "in_new_style": "in-new-style",
    "pull_seconds": "seconds pull-seconds",
    "depth_verified": "depth-seen depth-verified",
    "is_test": "test test-day is-test",
    "order": "order set-order set-number set-no set-nr",
    "body_mass": "bodyweight body-weight bw body-mass mass körpergewicht koerpergewicht poids-de-corps peso-corporal",
    "aside": "tonnage volume total-volume volume-load 1rm e1rm est-1rm estimated-1rm max-est calc points "
    "dots wilks class "
    "weight-class total percent pct % intensity duration rest rest-time tempo id row nr no # week weekday "
    "weight-kg-total",
}
ALIASES = {alias: field for field, words in HEADINGS.items() for alias in words.split()}
LABELS = {
    "date": "date",
    "lifter": "lifter",
    "lift": "lift",
    "style": "style",
    "load": "load",
    "unit": "unit",
    "sets": "number of sets",
    "reps": "reps",
    "tried": "reps tried",
    "effort": "RPE",
    "rir": "reps in reserve",
    "result": "made or missed",
    "note": "note",
    "set": "whole sets (5x3@180)",
    "bar": "bar, by name",
    "bar_kind": "kind of bar",
    "start": "start (floor, block, deficit)",
    "start_height": "height of block or deficit",
    "start_unit": "unit of that height",
    "disc": "disc diameter, cm",
    "grip": "grip",
    "kit": "kit",
    "straps": "straps",
    "belt": "belt",
    "suit": "suit",
    "dead_stop": "dead stop",
    "paused": "paused",
    "shape": "back shape",
    "shape_region": "back region",
    "miss_position": "missed at",
    "second_position": "second miss position",
    "gave_way": "what gave way",
    "slowest_at": "slowest at",
    "rule_reason": "rule reason",
    "what_changed": "what changed",
    "in_new_style": "in the new style",
    "pull_seconds": "seconds",
    "depth_verified": "depth seen",
    "is_test": "test day",
    "order": "order in the day",
    "body_mass": "body mass (left aside: private, typed on the Build page)",
    "aside": "left aside",
}
EXPORT = (
    ("date", "day"), ("order", "order"), ("lifter", ""), ("lift", "lift"), ("style", "style"), ("load", "load_typed"),
    ("unit", "load_unit"), ("reps", "reps_made"), ("reps tried", "reps_tried"), ("effort", "effort_typed"),
    ("result", "result"), ("bar name", ""), ("bar kind", "bar_kind"), ("grip", "grip"), ("straps", "straps"),
    ("belt", "belt"), ("suit", "suit"), ("start", "start"), ("start height", "start_typed"),
    ("start height unit", "start_unit"), ("disc diameter cm", "disc_diameter_cm"), ("dead stop", "dead_stop"),
    ("paused", "paused"), ("back shape", "shape"), ("back region", "shape_region"), ("missed at", "miss_position"),
    ("second miss position", "second_position"), ("what gave way", "gave_way"), ("slowest at", "slowest_at"),
    ("rule reason", "rule_reason"), ("what changed", "what_changed"), ("in new style", "in_new_style"),
    ("seconds", "pull_seconds"), ("depth seen", "depth_verified"), ("test day", "is_test"), ("note", "note"),
)  # fmt: skip
NUMBERED = re.compile(r"(.+?)[\s_.-]*(\d{1,2})")


def heading_key(text: str) -> str:
    """A heading as it is compared: composed, folded, words joined by hyphens, units in brackets dropped."""
    text = unicodedata.normalize("NFC", tidy(text)).casefold()
    text = re.sub(r"[(\[].*?[)\]]", "", text)
    return re.sub(r"[\s_/.:]+", "-", text.strip()).strip("-")


def heading_unit(text: str) -> str:
    """The unit a heading names, as in "Weight (lb)" or "load_kg"."""
    found = re.search(r"(?:^|[\W_\d])(kgs?|kilos?|lbs?|pounds)(?:$|[\W_])", tidy(text).casefold())
    return "" if not found else "kg" if found[1][0] == "k" else "lb"


def field_of(heading: str) -> str:
    """The mapping a heading asks for, "" when it says nothing that is known."""
    key = heading_key(heading)
    if not key:
        return ""
    if key in ALIASES:
        return ALIASES[key]
    if looks_like_date(heading):
        return f"on:{tidy(heading)}"
    numbered = NUMBERED.fullmatch(key)
    base = numbered[1].strip("-") if numbered else ""
    if base in ("set", "sets", "satz", "série", "serie", "attempt", "versuch"):
        return "set"
    if base and ALIASES.get(base) in ("load", "reps", "effort", "result"):
        return ALIASES[base]
    called = re.sub(r"[(\[]\s*(?:kgs?|lbs?)\s*[)\]]", "", tidy(heading), flags=re.I).strip()
    called = re.sub(r"\s*[#_-]?\d{1,2}$", "", called) if numbered else called
    name = read_lift(called)
    return f"lift:{called}" if name.known and name.tags else ""


UNIT_WORDS = {"kg", "lb", "lbs", "kilos", "pounds", "r"}


def is_header(cells: Sequence[str]) -> bool:
    """Whether a line is a heading line: two headings of a log, or one and nothing but lifts, days and headings else.

    Words that are as common in the cells of a log ("kg") do not count.
    """
    named = [c for c in cells if c.strip()]
    known = [c for c in named if heading_key(c) in ALIASES and heading_key(c) not in UNIT_WORDS]
    if len(named) == 1:
        return bool(known)
    numbers = [c for c in named if read_number(c).value is not None]
    if len(numbers) > len(named) // 3:
        return False
    return len(known) >= 2 or (len(known) == 1 and all(field_of(c) for c in named))


def is_header_again(cells: Sequence[str]) -> bool:
    """Whether a line inside the data holds headings and nothing else."""
    named = [heading_key(c) for c in cells if c.strip()]
    return len(named) >= 2 and all(key in ALIASES and key not in UNIT_WORDS for key in named)


def map_header(cells: Sequence[str], rows: Sequence[Sequence[str]] = ()) -> list[str]:
    """One mapping per heading; only columns that may repeat do so. `rows` tell a set's number from a set."""
    found = [field_of(c) for c in cells]
    for i, field in enumerate(found):
        if field == "set" and all(_is_count(r[i]) for r in rows if i < len(r) and r[i].strip()) and "reps" in found:
            found[i] = "aside"
    _unnamed_sets(found, rows)
    repeats = {"load", "reps", "effort", "result", "set", "aside", ""}
    seen: set[str] = set()
    for i, field in enumerate(found):
        if field in seen and field not in repeats and ":" not in field:
            found[i] = ""
        seen.add(field)
    return found


def _unnamed_sets(found: list[str], rows: Sequence[Sequence[str]]) -> None:
    """A column under a heading that says nothing, whose cells all look like "3x5", holds sets and reps."""
    for i, field in enumerate(found):
        cells = [r[i] for r in rows if i < len(r) and r[i].strip()]
        if not field and cells and not {"set", "reps"} & set(found) and all(map(_is_scheme, cells)):
            found[i] = "set"


def _is_scheme(cell: str) -> bool:
    return re.fullmatch(r"\d{1,2}\s*[x×X*]\s*\d{1,2}", tidy(cell)) is not None


def map_by_content(rows: Sequence[Sequence[str]]) -> list[str]:
    """Mappings for a file without headings, from what most cells of each column look like."""
    width = max((len(r) for r in rows), default=0)
    mapping: list[str] = []
    for i in range(width):
        cells = [r[i] for r in rows if i < len(r) and r[i].strip()]
        mapping.append(_content_field(cells, mapping))
    _name_counts(mapping)
    if "lifter" not in mapping and "?" in mapping:
        mapping[mapping.index("?")] = "lifter"
    return ["note" if f == "?" and "note" not in mapping[:i] else "" if f == "?" else f for i, f in enumerate(mapping)]


def _name_counts(mapping: list[str]) -> None:
    """Whole numbers beside the load: one column is reps, two are sets and reps, more are left aside."""
    counts = [i for i, field in enumerate(mapping) if field == "count"]
    names = ["reps"] if len(counts) == 1 else ["sets", "reps"]
    for at, i in enumerate(counts):
        mapping[i] = names[at] if at < len(names) else ""


def _is_count(cell: str) -> bool:
    value = read_number(cell).value
    return value is not None and value == int(value) and 0 < value <= 20


def _is_effort(cell: str) -> bool:
    value = read_number(tidy(cell).lstrip("@")).value
    return value is not None and 5 <= value <= 10 and value * 2 == int(value * 2)


def _content_field(cells: Sequence[str], taken: Sequence[str]) -> str:
    if not cells:
        return ""
    halves = any(read_number(c).value not in (None, int(read_number(c).value or 0)) for c in cells)
    tests = (
        ("date", looks_like_date),
        ("unit", lambda c: tidy(c).casefold() in ("kg", "lb", "lbs", "kgs")),
        ("effort", lambda c: "load" in taken and halves and _is_effort(c)),
        ("count", _is_count),
        ("load", lambda c: read_number(c).value is not None),
        ("set", lambda c: all(s.load is not None and not s.percent for s in read_sets(c)) and bool(read_sets(c))),
        ("result", lambda c: tidy(c).casefold() in RESULT_WORDS),
        ("lift", lambda c: read_lift(c).known),
    )
    for field, fits in tests:
        if field in taken and field not in ("count", "set"):
            continue
        if sum(map(fits, cells)) * 2 > len(cells):
            return field
    return "?"
