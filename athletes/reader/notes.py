"""What the reader has to say about a cell: a guess it made, a question it must ask, or why it refuses."""

from collections.abc import Iterable
from typing import NamedTuple

# How much of a file is read; what is beyond is refused with its place.
LONGEST_LINE = 1_000_000
LONGEST_CELL = 20_000
MOST_COLUMNS = 300
MOST_ROWS = 300_000
MOST_LINES_IN_A_CELL = 40
MOST_QUESTIONS = 400  # on one page; the lines beyond wait with their reason, and ask when these are answered


GUESS, ASK, SKIP = "guess", "ask", "skip"
RANK = {"ok": 0, GUESS: 1, ASK: 2, SKIP: 3}


class Note(NamedTuple):
    """One remark; `question` and `subject` name what the person may answer for the whole file."""

    level: str
    reason: str
    question: str = ""
    subject: str = ""


Notes = tuple[Note, ...]


def settled(question: str, subject: str = "file") -> Notes:
    """A question that an answer has settled: it weighs nothing, but it stays listed and can be answered again."""
    return (Note("ok", "", question, subject),)


def left_out(notes: Notes) -> Notes:
    """Remarks on a part that stays out of the log while the rest of its line is taken, or asked about."""
    return tuple(n._replace(level=GUESS, reason=f"left out: {n.reason}") if n.level == SKIP else n for n in notes)


def worst(notes: Iterable[Note]) -> str:
    """The status of a row with these notes."""
    return max((note.level for note in notes), key=RANK.__getitem__, default="ok")


def reasons(notes: Iterable[Note], limit: int = 300) -> str:
    """The notes' reasons, the gravest first, each once, cut to what a row can hold."""
    ordered = sorted(notes, key=lambda note: -RANK[note.level])
    text = "; ".join(dict.fromkeys(note.reason for note in ordered if note.reason))
    return text if len(text) <= limit else text[: limit - 1] + "…"


class Refused(Exception):
    """The file cannot be read as a log; the message says what and where."""
