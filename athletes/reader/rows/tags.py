"""Lift, style, start, bar, grip and kit of a line, from its columns and from words inside names and notes."""

import re
from collections.abc import Sequence
from typing import Any

from athletes.reader.cells.lifts import read_kit, read_lift, read_start
from athletes.reader.cells.numbers import read_number, tidy
from athletes.reader.headings import MASS
from athletes.reader.notes import ASK, GUESS, SKIP, Note, Notes, settled
from athletes.reader.plan import ReadingPlan
from athletes.reader.rows.context import Cells
from athletes.schema.vocabulary import BarKind
from athletes.units.loads import canonical

NOT_THERE = re.compile(
    r"(?<!\w)(?:forgot|forgotten|without|didn.?t|don.?t|not|never|should|next|instead|vergessen|nicht|oubli[eé]|pas de|"
    r"olvid[eé]|dimenticat[oa]|zapomnia\w+|glemte|glömde|w/o)(?!\w)",
    re.I,
)
LONGEST_TOLD = 80  # letters: longer notes tell stories; common practice, no source
KIT_COLUMNS = ("straps", "belt", "suit", "grip", "bar_kind")


def tags_of(lift: str, row: Cells, plan: ReadingPlan) -> tuple[dict[str, object], Notes]:
    """Columns of a set that make it comparable with others, with what was guessed or must be asked."""
    tags, notes = _named(lift, plan)
    style = row.first("style")
    if style:
        more, said = _style(style, plan)
        tags |= more
        notes += said
    notes += _kit(tags, row, plan)
    notes += _bar(tags, row, plan)
    notes += _height(tags, row, plan)
    return tags, notes


def _named(lift: str, plan: ReadingPlan) -> tuple[dict[str, object], Notes]:
    if not lift:
        said = () if "style" in plan.mapping else (Note(GUESS, "no lift named: a deadlift, style not noted"),)
        return {"lift": "deadlift"}, said
    plain = LIFT_VALUES.get(lift)
    if plain:
        return {"lift": plain}, ()
    name = read_lift(lift)
    answered = plan.answer(name.notes[0].question, name.notes[0].subject) if not name.known else None
    if answered == "leave-out":
        return {}, (Note(SKIP, f"“{lift[:40]}” left out, as answered", *name.notes[0][2:]),)
    if answered:
        known, _, style = str(answered).partition(":")
        return {
            "lift": known,
            **({"style": style} if style else {}),
            **({"note": lift} if known == "other" else {}),
        }, settled(*name.notes[0][2:])
    tags: dict[str, Any] = dict(name.tags)
    notes: list[Note] = []
    for note in name.notes:
        bar = plan.answer("bar", note.subject) if note.question == "bar" else None
        if bar:
            tags["bar_kind"] = bar
            notes += settled("bar", note.subject)
        else:
            notes.append(note)
    return tags, tuple(notes)


LIFT_VALUES = {
    "deadlift": "deadlift", "squat": "squat", "front-squat": "front-squat", "romanian": "romanian",
    "good-morning": "good-morning", "back-raise": "back-raise", "row": "row", "bench": "bench", "other": "other",
}  # fmt: skip


def _style(text: str, plan: ReadingPlan) -> tuple[dict[str, object], Notes]:
    if text in ("conventional", "sumo", "wide-sumo"):
        return {"style": text}, ()
    name = read_lift(text)
    tags = dict(name.tags)
    if name.known and "style" in tags:
        tags.pop("lift", None)
        return tags, name.notes
    if text.casefold() in ("-", "?", "n/a", "none", "other"):
        return {}, ()
    answered = plan.answer("lift", text.casefold()[:110])
    if answered:
        return {"style": str(answered).partition(":")[2]}, settled("lift", text.casefold()[:110])
    return {}, (Note(ASK, f"which style is “{text[:40]}”?", "lift", text.casefold()[:110]),)


def _kit(tags: dict[str, object], row: Cells, plan: ReadingPlan) -> Notes:
    notes: list[Note] = []
    kit = row.first("kit")
    if kit:
        found, left = read_kit(kit)
        tags |= found
        if left:
            notes.append(Note(GUESS, f"“{left[:40]}” in the kit column kept as a note"))
            tags["note"] = "; ".join(str(t) for t in (tags.get("note"), left) if t)
    return (*notes, *_from_note(tags, row.first("note"), plan))


def _from_note(tags: dict[str, object], note: str, plan: ReadingPlan) -> Notes:
    """Kit and a raised start that only the note names; a note that says what was not there says nothing here."""
    if not note or len(note) > LONGEST_TOLD or NOT_THERE.search(note):
        return ()
    found = read_kit(note)[0] if not set(KIT_COLUMNS) & set(plan.mapping) else {}
    if "start" not in tags and not {"start", "start_height"} & set(plan.mapping):
        found |= read_start(note)
    new = {k: v for k, v in found.items() if tags.get(k) != v and v}
    if not new:
        return ()
    tags |= new
    told = dict.fromkeys(k.partition("_")[0] if k.startswith("start") else k.replace("_", " ") for k in new)
    return (Note(GUESS, f"{', '.join(told)} taken from the note"),)


def _bar(tags: dict[str, object], row: Cells, plan: ReadingPlan) -> Notes:
    name = row.first("bar")
    if not name:
        return ()
    own = plan.bars.get(name.casefold())
    if own is not None:
        tags["bar"] = own
        return ()
    found, left = read_kit(name if "bar" in name.casefold() else f"{name} bar")
    if "bar_kind" in found and not left:
        tags.setdefault("bar_kind", found["bar_kind"])
        return ()
    answered = plan.answer("bar", name.casefold()[:110])
    if answered:
        tags["bar_kind"] = answered
        return settled("bar", name.casefold()[:110])
    said = f"which bar is “{name[:30]}”? kept as not noted until answered"
    return (Note(GUESS, said, "bar", name.casefold()[:110]),)


def _height(tags: dict[str, object], row: Cells, plan: ReadingPlan) -> Notes:
    typed = row.first("start_height")
    if not typed:
        return ()
    number = read_number(typed.rstrip("\"'cmin ″"), plan.decimal)
    unit = row.first("start_unit") or ("in" if typed.rstrip()[-1] in "\"″'n" else "cm")
    if number.value is None or unit not in ("cm", "in") or not 0 <= number.value <= 150:
        return (Note(ASK, f"height “{typed[:20]}” cannot be read"),)
    tags |= {"start_typed": typed.rstrip("\"'cmin ″"), "start_unit": unit, "start_cm": canonical(number.value, unit)}
    return ()


BAR_KINDS = frozenset(BarKind.values)


QUOTED = re.compile(r"“([^”…]+)”?")
LONGEST_NAME = 30


def with_column(notes: Notes, raw: Sequence[str], plan: ReadingPlan) -> Notes:
    """The remarks, those that stop the line with the column they are about where they tell it by its words."""
    if not any(note.level in (ASK, SKIP) for note in notes):
        return notes
    cells = {
        i: tidy(cell)
        for i, cell in enumerate(raw)
        if cell.strip() and i < len(plan.mapping) and plan.mapping[i] not in ("", "aside", MASS)
    }
    return tuple(_with_column(note, cells, plan) if note.level in (ASK, SKIP) else note for note in notes)


def _with_column(note: Note, cells: dict[int, str], plan: ReadingPlan) -> Note:
    quoted = QUOTED.search(note.reason)
    words = quoted[1].strip() if quoted else ""
    found = [i for i, cell in cells.items() if note.reason.startswith(cell) or (words and cell.startswith(words))]
    found = found or [i for i, cell in cells.items() if len(words) > 1 and words in cell]
    if len(found) != 1:
        return note
    name = plan.headings[found[0]].strip()[:LONGEST_NAME] if found[0] < len(plan.headings) else ""
    return note._replace(reason=f"{name or f'column {found[0] + 1}'}: {note.reason}")
