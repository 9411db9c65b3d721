"""A line's cells by field, and who and when they are about."""

from collections.abc import Sequence
from typing import NamedTuple

from ..plan import ReadingPlan


class Context(NamedTuple):
    """Day ("" when each column has its own), athlete and lift name that all sets of a line share."""

    day: str
    athlete: int | None
    lift: str


class Cells:
    """The cells of one line looked up by the field their column holds."""

    def __init__(self, raw: Sequence[str], plan: ReadingPlan) -> None:
        self.by_field: dict[str, list[tuple[int, str]]] = {}
        for i, field in enumerate(plan.mapping):
            if field and i < len(raw) and raw[i].strip():
                self.by_field.setdefault(field, []).append((i, unguarded(raw[i].strip())))

    def first(self, field: str) -> str:
        """The first filled cell of a field, "" when there is none."""
        found = self.by_field.get(field)
        return found[0][1] if found else ""

    def all(self, field: str) -> list[tuple[int, str]]:
        """Column numbers and cells of a field."""
        return self.by_field.get(field, [])


def unguarded(text: str) -> str:
    """A cell without the apostrophe that keeps spreadsheets from taking it for a formula."""
    if text.startswith("'") and text.lstrip("'")[:1] in FORMULA_STARTS:
        return text[1:]
    return text


FORMULA_STARTS = tuple("=+-@\t\r＝＋－＠")
