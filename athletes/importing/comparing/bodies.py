"""The body measures of a file against one another and against what is known: the same ones, second ones, jumps."""

from collections import defaultdict
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field, replace
from datetime import date
from typing import Any

from athletes.importing.comparing.jumps import Weighing, jumps
from athletes.importing.comparing.known_bodies import bodies_of, token
from athletes.importing.comparing.plan import answers_for, local_today
from athletes.measuring.stale import YOUNG_KEEP
from athletes.models import Athlete, ImportBatch, Measurement, TrainingDay
from athletes.reader.headings import measures_in
from athletes.reader.notes import ASK, GUESS
from athletes.schema.measurements import MeasureKey as Key
from athletes.schema.measurements import measure_label

MOST_REPEATS = 3
SAME = 0.05  # cm or kg
Known = dict[tuple[int, str, str], list[float]]


@dataclass(frozen=True)
class Reading:
    """One reading of a line that would be taken."""

    row: int
    line: int
    place: int
    athlete: int
    day: str
    key: str
    value: float
    with_visit: bool
    beside_sets: bool


@dataclass
class Finding:
    """What becomes of a line's readings: those left out by place, with level and reason, and what must be asked."""

    left: dict[int, tuple[str, str]] = field(default_factory=dict)
    asks: list[str] = field(default_factory=list)


@dataclass
class Findings:
    """All findings by line, and the questions about body masses that jump."""

    by_row: dict[int, Finding] = field(default_factory=dict)
    questions: dict[str, dict[str, object]] = field(default_factory=dict)

    def of(self, reading: Reading) -> Finding:
        return self.by_row.setdefault(reading.row, Finding())

    def leave(self, reading: Reading, level: str, reason: str) -> None:
        self.of(reading).left[reading.place] = (level, reason)


def body_findings(batch: ImportBatch, lines: Iterable[tuple[int, int, dict[str, object]]]) -> Findings:
    """Look through the readings of all lines (key, number, parsed) once, in the order of their days."""
    found = Findings()
    if not measures_in(batch.options.get("mapping", [])):
        return found
    readings = sorted((r for line in lines for r in readings_of(*line)), key=_lengths_first)
    log, days = _measured(batch), _weighed(batch)
    young = {pk for pk, body in bodies_of(batch.club, local_today(batch)).items() if body.young}
    kept = _distinct(readings, log, days, young, found)
    _ask_about_jumps(batch, kept, log, days, found)
    return found


def readings_of(pk: int, number: int, parsed: Mapping[str, Any]) -> list[Reading]:
    """The readings of a line."""
    return [
        Reading(
            pk, number, place, int(m["athlete"]), str(m["day"]), str(m["key"]), float(m["value"]),
            False, bool(parsed.get("sets")),
        )
        for place, m in enumerate(parsed.get("measures", []))
    ]  # fmt: skip


def _lengths_first(reading: Reading) -> tuple[bool, str, int, int]:
    """Lengths in the order of their days, then body masses, which go where the lengths beside them went."""
    return reading.key == Key.MASS, reading.day, reading.line, reading.place


def _measured(batch: ImportBatch) -> Known:
    """Readings of measuring visits in the club."""
    known: Known = defaultdict(list)
    rows = Measurement.objects.filter(visit__athlete__club=batch.club_id).exclude(visit__batch=batch.pk)
    for athlete, day, key, value in rows.values_list("visit__athlete", "visit__day", "key", "value"):
        known[athlete, day.isoformat(), key].append(value)
    return known


def _weighed(batch: ImportBatch) -> dict[tuple[int, str], float]:
    """Body masses noted on training days in the club."""
    rows = TrainingDay.objects.filter(athlete__club=batch.club_id, mass_kg__isnull=False)
    return {(a, day.isoformat()): kg for a, day, kg in rows.values_list("athlete", "day", "mass_kg") if kg is not None}


def _distinct(
    readings: list[Reading], log: Known, days: dict[tuple[int, str], float], young: set[int], found: Findings
) -> list[Reading]:
    """The readings that are no second telling of another one."""
    kept: list[Reading] = []
    here: dict[tuple[int, str, str], list[Reading]] = defaultdict(list)
    latest: dict[tuple[int, str], Reading] = {}
    visits: set[tuple[int, int, str]] = set()
    for one in readings:
        one = replace(one, with_visit=(one.row, one.athlete, one.day) in visits)
        place = (one.athlete, one.day, one.key)
        left = _in_log(one, log, days) or _in_file(one, here[place], latest.get((one.athlete, one.key)), young)
        if left:
            found.leave(one, *left)
            continue
        if one.key != Key.MASS:
            visits.add((one.row, one.athlete, one.day))
        here[place].append(one)
        latest[one.athlete, one.key] = one
        kept.append(one)
    return kept


def _in_log(one: Reading, log: Known, days: dict[tuple[int, str], float]) -> tuple[str, str] | None:
    name = measure_label(one.key)
    there = list(log.get((one.athlete, one.day, one.key), []))
    noted = days.get((one.athlete, one.day)) if one.key == Key.MASS else None
    if any(abs(value - one.value) < SAME for value in [*there, *([noted] if noted is not None else [])]):
        return "known", f"{name} is in the log already"
    if noted is not None and not one.with_visit:
        return GUESS, "another body mass is noted on that day, which stays"
    return None


def _in_file(one: Reading, here: list[Reading], latest: Reading | None, young: set[int]) -> tuple[str, str] | None:
    name = measure_label(one.key)
    same = next((r for r in here if abs(r.value - one.value) < SAME), None)
    if same:
        return "ok", f"{name} as on line {same.line}"
    if one.key == Key.MASS and here and not one.with_visit:
        return GUESS, f"a second body mass of that day: the one on line {here[0].line} is kept"
    if len(here) >= MOST_REPEATS:
        return GUESS, f"{name}: more than {MOST_REPEATS} readings of one day, this one left out"
    if latest and one.key != Key.MASS and one.beside_sets and abs(latest.value - one.value) < SAME:
        apart = date.fromisoformat(one.day) - date.fromisoformat(latest.day)
        if one.athlete not in young or apart <= YOUNG_KEEP:
            return "ok", f"{name} unchanged since line {latest.line}: kept once"
    return None


def _ask_about_jumps(
    batch: ImportBatch, kept: list[Reading], log: Known, days: dict[tuple[int, str], float], found: Findings
) -> None:
    """Body masses that are more than 5 % a week from the one before: a yes, or left out."""
    answers = answers_for(batch)
    by_athlete: dict[int, list[Weighing]] = defaultdict(list)
    for (athlete, day), kg in days.items():
        by_athlete[athlete].append(Weighing(date.fromisoformat(day), kg))
    for (athlete, day, key), values in log.items():
        if key == Key.MASS:
            by_athlete[athlete].append(Weighing(date.fromisoformat(day), values[0]))
    subjects: dict[str, Reading] = {}
    for one in kept:
        if one.key == Key.MASS:
            subject = f"{one.athlete}:{token(one.athlete, one.day, f'{one.value:.3f}')}"
            answered = str(answers.get(f"jump|{subject}", ""))
            subjects[subject] = one
            if answered != "leave-out":
                by_athlete[one.athlete].append(
                    Weighing(date.fromisoformat(one.day), one.value, subject, answered == "right")
                )
            else:
                found.leave(one, GUESS, "body mass left out, as answered")
                _question(subject, one, found)
    names = dict(Athlete.objects.filter(pk__in=by_athlete).values_list("pk", "name"))
    for athlete, weighings in by_athlete.items():
        for odd in jumps(weighings):
            one = subjects[odd.subject]
            _question(odd.subject, one, found)
            if not odd.confirmed:
                found.of(one).asks.append(
                    f"body mass of {names[athlete]}: more than 5 % a week from the one beside it; is it right?"
                )


def _question(subject: str, one: Reading, found: Findings) -> None:
    found.questions[f"jump|{subject}"] = {"count": 1, "line": one.line, "example": one.day}


__all__ = ["ASK", "Finding", "Findings", "body_findings", "readings_of"]
