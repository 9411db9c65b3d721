"""What a file leaves open, in words, with the answers that may be given; answers are kept for the club's next file."""

from dataclasses import dataclass
from datetime import date

from django.db import transaction

from athletes.importing.comparing.plan import answers_for, local_today, people_of
from athletes.importing.files.upload import FILE_WIDE
from athletes.models import ImportAnswer, ImportBatch, User
from athletes.models.choices import BarKind, Lift, Style
from athletes.reader.cells.dates import EARLIEST
from athletes.reader.names import LEAVE_OUT, People
from athletes.schema.measurements import MEASUREMENTS, measure_label

Choices = list[tuple[str, str]]
LIFTS: Choices = [
    ("deadlift:", "deadlift, style not noted"),
    *((f"deadlift:{value}", f"deadlift, {label}") for value, label in Style.choices),
    *((f"{value}:", label) for value, label in Lift.choices if value != "deadlift"),
    (LEAVE_OUT, "leave these lines out"),
]
RESULTS: Choices = [
    ("made", "made"), ("missed", "missed"), ("no-lift", "no lift (rule)"), ("not-tried", "not tried"),
    ("stopped-pain", "stopped (pain)"), (LEAVE_OUT, "leave these lines out"),
]  # fmt: skip
READINGS: Choices = [("right", "right as written"), (LEAVE_OUT, "leave it out and take the rest of the line")]
FIXED: dict[str, tuple[str, Choices]] = {
    "date-order": (
        "Dates such as 04/03/2026: which comes first?",
        [
            ("dmy", "day first: 4 March"),
            ("mdy", "month first: 3 April"),
            ("ymd", "year first: 26/03/04 is 4 March 2026"),
        ],
    ),
    "unit": ("Loads without a unit: kg or lb?", [("kg", "kg"), ("lb", "lb")]),
    "sets-reps": ("“5x3” is", [("sets", "5 sets of 3 reps"), ("reps", "3 sets of 5 reps")]),
    "at-number": ("“@8” is", [("rpe", "RPE 8")]),
    "minus": (
        "A minus before a load, as in -200, is",
        [("missed", "a missed attempt"), ("made", "only a dash: the lift was made")],
    ),
    "cut-off": ("“200x” is", [("missed", "a missed 200"), ("single", "a single with 200, cut short")]),
    "brackets": (
        "A load in brackets, as in (200), is",
        [("missed", "a missed attempt"), ("made", "a lift that was made")],
    ),
    "dash": ("A load with a dash behind it, as in 200-, is", [("missed", "a missed attempt"), ("made", "only a dash")]),
    "note-miss": (
        "A note that begins with “missed” or “failed”, where nothing else says how the lift went:",
        [("missed", "the lift was missed"), ("made", "the lift was made")],
    ),
    "times-load": ("“5x180” is", [("reps", "5 reps with 180"), ("sets", "5 singles with 180")]),
    "feet": (
        "A height such as 5.11 is",
        [("feet-inches", "5 feet and 11 inches"), ("feet", "5.11 feet, which is 5 feet and 1 inch")],
    ),
    "arm": (
        "A length in the column of arms is",
        [("span", "the arm span, fingertip to fingertip"), ("one", "one arm")],
    ),
    "mass-unit": (
        "Body masses without a unit: kg or lb?",
        [("kg", "kg"), ("lb", "lb"), (LEAVE_OUT, "leave every body mass out")],
    ),
    "landmarks": (
        "Heights and breadths at bony points: who found the points?",
        [
            ("self", "the athletes themselves"),
            ("consent", "the measurer, with the athlete's consent"),
            (LEAVE_OUT, "leave these readings out"),
        ],
    ),
    "missed-reps": (
        "A missed set of 3 reps:",
        [
            ("last", "the last rep was missed: 2 of 3"),
            ("none", "none was made: 0 of 3"),
            ("one-more", "3 were made, the next one missed: 3 of 4"),
        ],
    ),
    "plates": (
        "“4 plates” a side:",
        [
            ("20-20-kg", "20 kg bar, 20 kg plates: 180 kg"),
            ("20-25-kg", "20 kg bar, 25 kg plates: 220 kg"),
            ("15-20-kg", "15 kg bar, 20 kg plates: 175 kg"),
            ("45-45-lb", "45 lb bar, 45 lb plates: 405 lb"),
            ("35-45-lb", "35 lb bar, 45 lb plates: 395 lb"),
        ],
    ),
}
GUESSED = (
    "sets-reps",
    "at-number",
    "minus",
    "missed-reps",
    "times-load",
)  # read as the first answer until another is given
TYPED = {
    "year": ("Which year are the dates without one?", "year"),
    "block-start": ("“Week 3 day 2”: on which date did week 1 day 1 fall?", "date"),
    "file-date": ("The file has no date: on which day was this done?", "date"),
}


@dataclass(frozen=True)
class Question:
    """One question about a file: how many lines wait for it, and what was answered so far."""

    key: str
    text: str
    choices: tuple[tuple[str, str], ...]
    kind: str
    answer: str
    count: int
    line: int
    example: str

    @property
    def field(self) -> str:
        return f"answer-{self.key}"

    @property
    def unanswered(self) -> str:
        """The words for no answer: how the lines are read until one is given."""
        guessed = self.key.partition("|")[0] in GUESSED
        return f"not answered; read as: {self.choices[0][1]}" if guessed else "not answered"


def questions_of(batch: ImportBatch) -> list[Question]:
    """The file's questions, those that stop lines first, then names and words."""
    people, answers = people_of(batch), answers_for(batch)
    asked = dict(batch.options.get("questions", {}))
    order = ["whose", "name", *TYPED, *FIXED, "lift", "result", "bar", "odd", "jump"]
    found = [_question(key, about, people, answers) for key, about in asked.items()]
    return sorted((q for q in found if q), key=lambda q: (order.index(q.key.partition("|")[0]), q.line))


def _question(key: str, about: dict[str, object], people: People, answers: dict[str, object]) -> Question | None:
    question, _, subject = key.partition("|")
    text, choices, kind = _words(question, subject, people)
    if not text:
        return None
    text = text.replace(f"“{subject}”", f"“{_as_typed(subject, str(about['example']))}”")
    answer = answers.get(key)
    return Question(
        key, text, tuple(choices), kind, "" if answer is None else str(answer), int(str(about["count"])),
        int(str(about["line"])), str(about["example"]),
    )  # fmt: skip


def _as_typed(subject: str, example: str) -> str:
    """What is asked about as it stands in the file; answers are kept without capitals, so that one serves all."""
    return next((cell for cell in example.split(" | ") if cell.casefold() == subject.casefold()), subject)


def _words(question: str, subject: str, people: People) -> tuple[str, Choices, str]:
    if question in FIXED:
        return *FIXED[question], "choice"
    if question in TYPED:
        return TYPED[question][0], [], TYPED[question][1]
    if question in ("name", "whose"):
        likely = people.like(subject) if question == "name" else []
        others = [p for p in people.persons if p not in likely]
        named = [(str(p.pk), _told_apart(p.name, p.pk, people)) for p in [*likely, *others]]
        text = f"Who is “{subject}”?" if question == "name" else "The file names nobody: whose log is it?"
        return text, [*named, *([(LEAVE_OUT, "leave these lines out")] if question == "name" else [])], "choice"
    if question == "lift":
        return f"Which lift is “{subject}”?", LIFTS, "choice"
    if question == "result":
        return f"What does “{subject}” mean as a result?", RESULTS, "choice"
    if question == "bar":
        return f"Which bar is “{subject}”?", [(v, label) for v, label in BarKind.choices], "choice"
    if question in ("odd", "jump"):
        return _about_a_reading(question, subject, people), READINGS, "choice"
    return "", [], ""


def _about_a_reading(question: str, subject: str, people: People) -> str:
    """A question about one reading of one person; no body mass is told in it."""
    pk, _, rest = subject.partition(":")
    name = next((p.name for p in people.persons if str(p.pk) == pk), "somebody who is not here any more")
    if question == "jump":
        return f"Body mass of {name}: more than 5 % a week from the one beside it. Is it right?"
    key = rest.partition(":")[0]
    known = key in {one.key for one in MEASUREMENTS}
    return f"{measure_label(key).capitalize() if known else 'A reading'} of {name}: is it right?"


def _told_apart(name: str, pk: int, people: People) -> str:
    same = [p for p in people.persons if p.name == name]
    return name if len(same) == 1 else f"{name} (number {pk} on the people page)"


class Unanswerable(ValueError):
    """An answer that cannot be one; the message says why."""


def answer(batch: ImportBatch, actor: User, given: dict[str, str]) -> int:
    """Keep answers with the file and, where they hold for others too, with the club; returns how many changed."""
    asked = {q.key: q for q in questions_of(batch)}
    checked = {
        key: _checked(asked[key], text.strip(), batch) for key, text in given.items() if key in asked and text.strip()
    }
    before = answers_for(batch)
    changed = {key: value for key, value in checked.items() if str(before.get(key)) != str(value)}
    if not changed:
        return 0
    with transaction.atomic():
        now = ImportBatch.objects.select_for_update().get(pk=batch.pk)
        for key, value in changed.items():
            question, _, subject = key.partition("|")
            kept = str(now.options["signature"]) if question in FILE_WIDE else subject
            now.options["answers"][f"{question}|{kept}"] = value
            if question in FILE_WIDE or subject != "file":
                ImportAnswer.objects.update_or_create(
                    club=now.club, question=question, subject=kept, defaults={"answer": value, "answered_by": actor}
                )
        begin_again(now)
    return len(changed)


def begin_again(batch: ImportBatch) -> None:
    """Read the lines anew with what is known now; choices and typed fixes stay with their lines."""
    batch.status = ImportBatch.Status.STAGING
    batch.reason = ""
    batch.options |= {"phase": "look", "turn": int(batch.options.get("turn", 1)) + 1, "again": True}
    batch.rows_read = 0
    batch.save()


def _checked(question: Question, text: str, batch: ImportBatch) -> object:
    if question.kind == "choice":
        if text not in {value for value, _ in question.choices}:
            raise Unanswerable(f"{question.text} “{text[:30]}” is not one of the answers.")
        return text
    today = local_today(batch)
    if question.kind == "year":
        if not text.isascii() or not text.isdigit() or not EARLIEST.year <= int(text) <= today.year:
            raise Unanswerable(f"{question.text} A year from {EARLIEST.year} to {today.year}, such as {today.year}.")
        return int(text)
    try:
        day = date.fromisoformat(text)
    except ValueError:
        raise Unanswerable(f"{question.text} A date such as {today:%Y-%m-%d}.") from None
    if not EARLIEST <= day <= today:
        raise Unanswerable(f"{question.text} Not in the future and not before {EARLIEST.year}.")
    return day.isoformat()
