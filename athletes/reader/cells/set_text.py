"""What a written set says, before its line is asked for the rest."""

from dataclasses import dataclass

from athletes.reader.cells.effort import Effort
from athletes.reader.notes import Notes

LOAD_ABOVE = 20  # a bare number above this is a load, not a count of reps or sets; common practice, no source
MOST_SETS, MOST_REPS = 30, 60
NO_EFFORT = Effort()


@dataclass(frozen=True, slots=True)
class SetText:
    """One kind of set from a cell; `load` is None where the cell holds no load, `count` says how often it was done.

    `result` is a word beside the load ("made", "no-lift"), `words` what is kept as a note, `tags` kit named there.
    """

    load: float | None = None
    load_typed: str = ""
    unit: str = ""
    count: int = 1
    reps: int | None = None
    made: int | None = None
    missed: bool = False
    effort: Effort = NO_EFFORT
    plates: tuple[float, float] | None = None
    percent: str = ""
    note: str = ""
    notes: Notes = ()
    result: str = ""
    words: str = ""
    tags: tuple[tuple[str, object], ...] = ()
    single: bool = False
