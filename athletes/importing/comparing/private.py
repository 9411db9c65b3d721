"""Body mass in a file: masked wherever a line is kept or shown, and held apart until the line is in the log.

A club's staff read every line of an import; who may not see what a lifter weighs must not learn it there. What the
masks hide, from the file (`hidden`) and from a fix (`typed`), and what was read from it (`readings`, by place among the
line's measures) is held in a table that no page shows, and is deleted once the lines are in.
"""

from collections.abc import Iterable, Mapping, Sequence
from typing import Any

from athletes.access.permissions import roles_of
from athletes.models import HeldMass, ImportBatch, User
from athletes.models.bulk import Bulk
from athletes.models.choices import MeasureKey, Role
from athletes.reader.columns import field_of
from athletes.reader.headings import MASS

MASKED = "(body mass, private)"
ONLY_THEY = (
    "The file holds body mass: only who uploaded it or a club owner may have these cells read as something else."
)
HELD = Bulk(HeldMass)
VALUES = ("typed", "unit", "value")
Parsed = dict[str, Any]
Held = dict[str, dict[str, Any]]


def private_columns(options: Mapping[str, Any]) -> frozenset[int]:
    """Columns of body mass: mapped so, or left aside under a heading that says so."""
    mapping, headings = list(options.get("mapping", [])), list(options.get("headings", []))
    aside = {i for i, h in enumerate(headings) if i < len(mapping) and mapping[i] in ("", "aside")}
    return frozenset(i for i, f in enumerate(mapping) if f == MASS or (i in aside and field_of(headings[i]) == MASS))


def masked(cells: Sequence[str], private: frozenset[int]) -> list[str]:
    """The cells as they may be kept and shown."""
    return [MASKED if i in private and any(c.isdigit() for c in cell) else cell for i, cell in enumerate(cells)]


def hidden_in(cells: Sequence[str], private: frozenset[int]) -> dict[str, str]:
    """What the masks of these cells hide, by column."""
    return {str(i): cells[i] for i in sorted(private) if i < len(cells) and any(c.isdigit() for c in cells[i])}


def unmasked(cells: Sequence[str], *hidden: object) -> list[str]:
    """The cells with what the masks hide; the first that hides something counts."""
    found: dict[str, str] = {}
    for one in reversed(hidden):
        found |= one if isinstance(one, dict) else {}
    return [found.get(str(i), "") if cell == MASKED else cell for i, cell in enumerate(cells)]


def masked_of(batch: ImportBatch, numbers: Iterable[int]) -> dict[int, Held]:
    """What is held of these lines."""
    rows = batch.held_masses.filter(number__in=list(numbers))
    return dict(rows.values_list("number", "held"))


def hold(batch: ImportBatch, lines: Iterable[Parsed], first: int, last: int) -> None:
    """Keep what is held of lines first to last, instead of what was."""
    batch.held_masses.filter(number__gte=first, number__lte=last).delete()
    HELD.insert(HELD.ready([one for one in lines if one["held"]], {"batch": batch.pk}))


def holding(
    number: int, cells: Sequence[str], fixed: Sequence[str] | None, measures: Sequence[Parsed], private: frozenset[int]
) -> Parsed:
    """Everything of a line that is held apart from it."""
    masses = {str(i): m for i, m in enumerate(measures) if m["key"] == MeasureKey.MASS}
    readings = {i: {k: m[k] for k in VALUES} for i, m in masses.items()}
    kept = {"hidden": hidden_in(cells, private), "typed": hidden_in(fixed or [], private), "readings": readings}
    athlete = next((m["athlete"] for m in measures), None)
    return {"number": number, "athlete": athlete, "held": {k: v for k, v in kept.items() if v}}


def without_values(measures: Iterable[Parsed]) -> list[Parsed]:
    """Measures as they may be kept with a line."""
    return [{k: v for k, v in m.items() if m["key"] != MeasureKey.MASS or k not in VALUES} for m in measures]


def whole(parsed: Parsed | None, held: Held | None) -> Parsed:
    """What was read of a line, with what is held apart of it."""
    parsed = dict(parsed or {})
    readings = (held or {}).get("readings", {})
    if readings:
        parsed["measures"] = [m | readings.get(str(i), {}) for i, m in enumerate(parsed.get("measures", []))]
    return parsed


def may_unmask(batch: ImportBatch, user: User) -> bool:
    """Whether this person may say that a column of body mass is something else: who had the file in hand, an owner."""
    return user.pk == batch.author_id or roles_of(user).get(batch.club_id) == Role.OWNER


def would_unmask(batch: ImportBatch, mapping: Sequence[str]) -> bool:
    """Whether other meanings of the columns would show what is masked now."""
    after = private_columns(batch.options | {"mapping": list(mapping)})
    return not private_columns(batch.options) <= after


def reread_would_unmask(batch: ImportBatch, given: Mapping[str, object]) -> bool:
    """Whether reading the file another way could show what is masked now."""
    made = batch.options["format"]
    anew = any(given.get(k) is not None and given[k] != made[k] for k in ("encoding", "separator"))
    return bool(private_columns(batch.options)) and anew
