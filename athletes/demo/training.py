"""The invented logs: a pull day and a squat day a week, waves of load, tests, misses by the lifter's story."""

import uuid
from dataclasses import dataclass, field
from datetime import date, timedelta
from random import Random

from athletes.demo.lifters import Lifter
from athletes.demo.stories import COURSES, NEW_STYLE, STORIES, Story
from athletes.models import Athlete, Bar, LiftSet, Trial, User
from athletes.models.choices import BarKind, Grip, Lift, Result, Shape, ShapeRegion, Start

KG_PER_LB = 0.45359237
WAVE = ((0.74, 5), (0.79, 4), (0.84, 3), (0.68, 5))  # share of best, repetitions
GRIPS = {"hook": Grip.HOOK, "mixed": Grip.MIXED}


@dataclass
class Log:
    """One lifter's log while it is being written."""

    lifter: Lifter
    athlete: Athlete
    bars: dict[str, Bar]
    author: User
    rng: Random
    trial: Trial | None = None
    sets: list[LiftSet] = field(default_factory=list)

    @property
    def story(self) -> Story:
        return STORIES[self.lifter.story]

    def typed(self, kg: float) -> tuple[str, str, float]:
        """A load as it is put on the bar: steps of 2.5 kg or 5 lb; what is typed, its unit, and kg."""
        if self.lifter.unit == "lb":
            pounds = round(kg / KG_PER_LB / 5) * 5
            return str(pounds), "lb", pounds * KG_PER_LB
        load = max(round(kg / 2.5) * 2.5, 20.0)
        return f"{load:g}", "kg", load

    def add(self, day: date, best: float, share: float, reps: int, **tags: object) -> LiftSet:
        """One set at a share of a lift's best; effort follows from the repetitions left (Epley 1985, turned round)."""
        text, unit, kg = self.typed(best * share)
        left = (best / kg - 1) * 30 + 1 - reps + self.rng.gauss(0, 0.4)
        rpe = min(max(round((10 - left) * 2) / 2, 5.0), 10.0)
        row = LiftSet(
            uid=uuid.UUID(int=self.rng.getrandbits(128), version=4),
            athlete=self.athlete,
            day=day,
            order=sum(1 for s in self.sets[-12:] if s.day == day) + 1,
            load_typed=text,
            load_unit=unit,
            load_kg=kg,
            reps_made=reps,
            reps_tried=reps,
            author=self.author,
            **tags,
        )
        if rpe >= 6 and self.rng.random() < 0.9:
            row.effort_typed, row.rir_low, row.rir_high = f"{rpe:g}", 10 - rpe, 10 - rpe
        if self.story.timed and row.lift == Lift.DEADLIFT and share >= 0.78:
            row.pull_seconds = seconds_of(kg / best, row.uid.int % 7)
        self.sets.append(row)
        return row


def seconds_of(share: float, luck: int) -> float:
    """Seconds of a pull: the nearer to the best, the slower (invented)."""
    return round(0.9 + 14.0 * max(share - 0.7, 0.0) ** 1.6 + 0.05 * luck, 2)


def best_on(lifter: Lifter, week: int) -> float:
    """The lifter's best pull in kg in a week of the log, before the day's luck."""
    grown = (week / max(lifter.weeks - 1, 1)) ** 0.8
    if lifter.story == "returning" and week >= 30:
        back = min((week - 30) / 30, 1.0)
        return lifter.end_kg * (0.62 + 0.38 * back**0.7)
    if lifter.story == "returning":
        return lifter.start_kg * (0.97 + 0.03 * week / 20)
    return lifter.start_kg + (lifter.end_kg - lifter.start_kg) * grown


def trains(lifter: Lifter, week: int, rng: Random) -> bool:
    """Whether there was a session that week: injury leaves a gap, life takes one week in fourteen."""
    if lifter.story == "returning" and 20 <= week < 30:
        return False
    return rng.random() < (0.3 if lifter.story == "thin" else 0.93)


def pull_tags(log: Log, style: str) -> dict[str, object]:
    bar = log.bars["deadlift" if log.lifter.story == "flexible" and log.rng.random() < 0.5 else "stiff"]
    return {
        "lift": Lift.DEADLIFT,
        "style": style,
        "bar": bar,
        "bar_kind": bar.kind,
        "grip": GRIPS[log.lifter.grip],
        "belt": True,
        "trial": log.trial if log.trial and style == log.trial.new_style else None,
    }


def note_shape(log: Log, row: LiftSet, best: float) -> None:
    """Flat or rounded belongs to a lift at a load; most sets nobody looked at."""
    if row.load_kg / best >= log.story.rounds_at:
        row.shape, row.shape_region = Shape.ROUNDED_DURING, ShapeRegion.LOWER
    elif log.rng.random() < 0.45:
        row.shape = Shape.FLAT


def miss(log: Log, row: LiftSet) -> None:
    position, seen = log.rng.choice(log.story.misses)
    row.result, row.reps_made = Result.MISSED, 0
    row.miss_position, row.gave_way = position, seen
    row.effort_typed, row.rir_low, row.rir_high = "", None, None
    row.note = log.rng.choice(log.story.notes)


def test_singles(log: Log, day: date, best: float, tags: dict[str, object]) -> None:
    """Singles up to a best; a load over the day's strength or over the hands' is missed and ends the test."""
    today = best * (1 + log.rng.gauss(0, 0.015))
    for share in (0.80, 0.88, 0.94, 0.97, 0.99, 1.01):
        row = log.add(day, best, share, 1, **tags)
        note_shape(log, row, best)
        row.is_test = share > 0.9
        if row.load_kg > today * min(1.0, log.story.own_grip):
            miss(log, row)
            return
        if share >= 0.9 and log.story.slow:
            row.slowest_at, row.what_changed = log.story.slow


def work_sets(log: Log, day: date, best: float, week: int, tags: dict[str, object]) -> None:
    share, reps = WAVE[week % 4]
    top = log.add(day, best, share + log.rng.gauss(0, 0.008), reps, **tags)
    note_shape(log, top, best)
    if log.lifter.grip == "hook" and log.lifter.story == "grip" and reps >= 4:
        strapped = log.add(
            day, best * 1.02, share + 0.07, reps, **(tags | {"straps": True, "grip": Grip.DOUBLE_OVERHAND})
        )
        note_shape(log, strapped, best)
    for _ in range(2):
        log.add(day, best, share - 0.08, reps, **tags)


def pull_day(log: Log, day: date, week: int, style: str, best: float) -> None:
    tags = pull_tags(log, style)
    log.add(day, best, 0.5, 5, **tags)
    if week % log.story.tests_every == log.story.tests_every - 1:
        test_singles(log, day, best, tags)
    else:
        work_sets(log, day, best, week, tags)


def squat_day(log: Log, day: date, week: int, best: float) -> None:
    """Squats weekly; front squats, below-knee blocks and soft-knee hinges take turns."""
    share, reps = WAVE[(week + 1) % 4]
    squat = best * log.story.squat
    bar = {"bar": log.bars["squat"], "bar_kind": BarKind.SQUAT_BAR, "belt": True, "depth_verified": True}
    for drop in (0, 0.08):
        log.add(day, squat, share - drop, reps, lift=Lift.SQUAT, **bar)
    turn = week % 3
    if turn == 0:
        log.add(day, best * log.story.front_squat, 0.88, 3, lift=Lift.FRONT_SQUAT, **bar)
    elif turn == 1 and log.lifter.standing in ("trained", "returning"):
        tags = pull_tags(log, log.lifter.style) | {"start": Start.BLOCK, "start_typed": "18", "start_unit": "cm"}
        row = log.add(day, best * log.story.below_knee_block, 0.89, 3, start_cm=18.0, **tags | {"trial": None})
        note_shape(log, row, best * log.story.below_knee_block)
    else:
        log.add(
            day, best, 0.58, 6, lift=Lift.ROMANIAN, bar=log.bars["training"], bar_kind=BarKind.TRAINING, straps=True
        )


def style_of_week(lifter: Lifter, weeks_ago: int) -> tuple[str, float]:
    """The style pulled in a week and its share of the lifter's best: a trial starts lower and catches up."""
    course = COURSES.get(lifter.story)
    if course is not None and weeks_ago < course.weeks_ago:
        done = course.weeks_ago - 1 - weeks_ago
        share = course.first + (course.last - course.first) * min(done / (course.weeks - 1), 1.0)
        if done < course.weeks:
            return NEW_STYLE, share
        return (NEW_STYLE, max(share, 1.0)) if course.decided == "adopt" else (lifter.style, 1.0)
    if lifter.story.startswith("adopted"):
        return "conventional", 0.97
    if lifter.story == "mixed-signs" and weeks_ago % 5 == 0:
        return "sumo", 0.96
    if lifter.story == "both-styles":
        return ("sumo", 0.985) if weeks_ago % 3 == 0 else ("conventional", 1.0)
    return lifter.style, 1.0


def in_trial(log: Log, weeks_ago: int) -> bool:
    """Whether a week lies inside the weeks of the lifter's trial."""
    course = COURSES.get(log.lifter.story)
    return course is not None and 0 <= course.weeks_ago - 1 - weeks_ago < course.weeks


def write_log(log: Log, today: date) -> list[LiftSet]:
    """All sets of the lifter, oldest first; the last pull day was some days ago."""
    lifter, rng = log.lifter, log.rng
    last = today - timedelta(days=4 + rng.randrange(3))
    for week in range(lifter.weeks):
        weeks_ago = lifter.weeks - 1 - week
        if not trains(lifter, week, rng):
            continue
        day = last - timedelta(weeks=weeks_ago)
        style, share = style_of_week(lifter, weeks_ago)
        best = best_on(lifter, week)
        squat_day(log, day - timedelta(days=4), week, best)
        if in_trial(log, weeks_ago):
            trial_week(log, day, week, best, share)
        else:
            pull_day(log, day, week, style, best * share)
    for row in log.sets:
        if row.trial is not None:
            row.in_new_style = "yes" if rng.random() < 0.85 else "partly"
    return log.sets


def trial_week(log: Log, day: date, week: int, best: float, share: float) -> None:
    """A week of a trial as a coach plans it: a top double in the new style at RPE 8, every second week one in the old.

    Nothing is tested to the limit and nothing is missed; the other days of the new style are light.
    """
    course, old = COURSES[log.lifter.story], "conventional"
    if log.rng.random() > course.kept:
        top_set(log, day, best, old, 0.90)
        return
    top_set(log, day, best * share, NEW_STYLE, 0.905)
    if week % 2:
        top_set(log, day, best, old, 0.90)
    else:
        for _ in range(2):
            log.add(day - timedelta(days=2), best * share, 0.72, 4, **pull_tags(log, NEW_STYLE))


def top_set(log: Log, day: date, best: float, style: str, share: float) -> None:
    """A double about two short of the limit, with the warm-up before it and a lighter one after."""
    tags = pull_tags(log, style)
    log.add(day, best, 0.55, 5, **tags)
    note_shape(log, log.add(day, best, share + log.rng.gauss(0, 0.006), 2, **tags), best)
    log.add(day, best, share - 0.09, 3, **tags)
