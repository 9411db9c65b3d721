"""Which column a remark is about, put before it, so that nobody has to look for the cell."""

import re
from collections.abc import Sequence

from athletes.reader.cells.numbers import tidy
from athletes.reader.headings import MASS
from athletes.reader.notes import ASK, SKIP, Note, Notes
from athletes.reader.plan import ReadingPlan

QUOTED = re.compile(r"“([^”…]+)”?")
LONGEST_NAME = 30


def located(notes: Notes, raw: Sequence[str], plan: ReadingPlan) -> Notes:
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
