"""Pictures of the answer: both styles at lift-off, how hard one load is, the course of a trial or of the work."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from datetime import date, timedelta

from django.urls import reverse
from django.utils.safestring import SafeString, mark_safe

from analysis.core.decision.days import weeks_ahead, working_day
from analysis.core.decision.states import trial_start, trial_weeks
from analysis.core.leverages.findings import paired
from analysis.core.records.decision import Answer, DecisionFacts, State
from analysis.core.records.estimates import TrialPlan, TrialVerdict
from analysis.core.records.messages import Message, Quantity, Unit, Value, kg
from analysis.core.records.plain import CoreError
from analysis.core.records.pulls import StyleReport
from analysis.core.records.terms import PLACE_WORDS
from analysis.core.records.wording import compared
from analysis.core.trials.verdict import expected_course
from analysis.decision.trials import split_points
from analysis.drawings.charts import Asked, Course, LinkRow, Week, course_chart, demands_chart, weeks_chart
from analysis.drawings.marks import Drawing
from analysis.drawings.pair import DESK, PHONE, Figure, pair
from analysis.leverages.page import page_for
from analysis.progress.stored import record_from
from analysis.store.profiles import Payload, Sources
from analysis.text.say import STYLE_NAMES, Reader, quantity, say
from analysis.trials.reading import filmed_distances, plan_of, running_trial
from athletes.models import Athlete, User
from athletes.schema.units import CM_PER_INCH, KG_PER_LB

WIDEST = 0.5  # of the axis: a range wider than this is not known yet
NEAR, BELOW = 0.85, 0.70  # shares of the limit from which a link is called near, and under which well below
TELLS = {"hips": "film a heavy triple", "legs": "front squat triple", "back": "film a heavy triple"}  # what would tell
LINKS = {"hips": "Hips", "legs": "Legs", "back": "Back"}
# name, what is compared, the length that is written in the picture and at which end of the pull, words
WAYS = (
    ("pull", "range_of_motion_m", "z_m", -1, "longer", "shorter"),
    ("hips", "hip_bar_distance_m", "hip_bar_distance_m", 0, "farther", "closer"),
)
LEAST_M = 0.005  # smallest difference of lengths that anybody would see


@dataclass(frozen=True, slots=True)
class Picture:
    """One picture with its title and caption; `phone` is its own drawing for narrow screens, `explore` an address."""

    title: str
    svg: SafeString
    caption: str
    phone: SafeString | None = None
    explore: str = ""


def drawn(picture: Drawing, key: str) -> SafeString:
    """A drawing as markup; `Drawing.svg` escapes every text and attribute itself."""
    return mark_safe(picture.svg(key))  # noqa: S308


def whole_length(reader: Reader) -> Callable[[float], str]:
    """Writes metres in whole units of the reader."""
    return lambda metres: quantity(Quantity(metres, Unit.METRE), reader)


def figures(athlete: Athlete, viewer: User, sources: Sources, facts: DecisionFacts, reader: Reader) -> Picture | None:
    """Both styles at lift-off; None without a stature or where the body cannot take both."""
    page = page_for(athlete, viewer, sources.lifter)
    if not page.measured:
        return None
    styles = (facts.main_style, facts.other_style)
    try:
        found = {one.name: one for one in page.report().styles if one.joints and one.name in styles}
    except CoreError:
        return None
    if len(found) < len(styles):
        return None
    filmed = filmed_distances(athlete, styles, sources.as_of)
    pairs = [Figure(found[name], STYLE_NAMES[name].capitalize(), _mean(filmed.get(name, ()))) for name in styles]
    length = whole_length(reader)
    unit = CM_PER_INCH / 100.0 if reader.length_unit == "in" else 0.01
    caption = say(pair_caption(found[styles[0]], found[styles[1]], facts.other_style, unit), reader)
    return Picture(
        "", drawn(pair(pairs, length, DESK), "pair"), caption, drawn(pair(pairs, length, PHONE), "pair-phone")
    )


def _mean(values: Sequence[float]) -> float | None:
    return sum(values) / len(values) if values else None


def pair_caption(first: StyleReport, second: StyleReport, other: str, unit_m: float) -> Message:
    """What surely differs between the two drawings, with its range; else what would tell.

    A difference is that of the two lengths as they are written, in whole units of `unit_m`.
    """
    values: dict[str, Value] = {"other": other}
    said = []
    for name, key, written, place, more, less in WAYS:
        change = paired(first, second, key)
        way = compared(change, LEAST_M)
        if way:
            low, high = sorted((abs(change.low), abs(change.high)))
            ends = [round(float(one.pull[written][place]) / unit_m) * unit_m for one in (first, second)]
            values |= {name: Quantity(abs(ends[1] - ends[0]), Unit.METRE), f"{name}_way": more if way > 0 else less}
            values[f"{name}_span"] = Quantity(abs(change.value), Unit.METRE, low, high)
            said.append(name)
    return Message(f"caption.{'-and-'.join(said) or 'open'}", values)


def demands(weak: Payload, facts: DecisionFacts, reader: Reader) -> Picture | None:
    """How hard one heavy load is in both styles, each link at its hardest height; None without an estimate."""
    found = {one["style"]: one["links"] for one in weak.get("demands", ())}
    main, other = found.get(facts.main_style), found.get(facts.other_style)
    if main is None:
        return None
    rows = []
    for link in sorted(main, key=lambda one: -one["share"]):
        both = [(facts.main_style, link), *((facts.other_style, o) for o in other or () if o["link"] == link["link"])]
        marks = tuple(Asked(style, one["share"], one["low"], one["high"]) for style, one in both)
        wide = any(one.high - one.low > WIDEST for one in marks)
        unknown = f"not known yet: {TELLS[link['link']]}" if wide else ""
        where = PLACE_WORDS[link["position"]].removeprefix("at ").removeprefix("just ").replace("the ", "")
        rows.append(LinkRow(LINKS[link["link"]], where, marks, unknown))
    title = say(Message("picture.demands", {"load": kg(weak["demand_kg"])}), reader)
    limit = say(Message("picture.limit"), reader).lower()
    return Picture(
        title, drawn(demands_chart(rows, limit, title), "demands"), say(demands_caption(rows, facts), reader)
    )


def demands_caption(rows: Sequence[LinkRow], facts: DecisionFacts) -> Message:
    """The link nearest its limit in the main style, and what stands out beside it."""
    known = [row for row in rows if row.marks and not row.unknown] or list(rows)
    near = known[0].name
    for row in known[1:]:
        if len(row.marks) == 2 and row.marks[0].share < NEAR <= row.marks[1].share:
            values: dict[str, Value] = {"near": near, "other": facts.other_style, "link": row.name.lower()}
            return Message("caption.other-near", values)
    last = known[-1]
    if len(known) > 1 and last.marks[0].share < BELOW:
        return Message("caption.near-below", {"near": near, "below": last.name.lower()})
    return Message("caption.near", {"near": near})


def third(athlete: Athlete, sources: Sources, facts: DecisionFacts, answer: Answer, reader: Reader) -> Picture | None:
    """The course of a running trial, what to expect of an offered one, or the weeks of training the link."""
    if facts.trial is not None and not facts.trial.decided:
        return trial_course(athlete, sources, facts, reader)
    if answer.state == State.OFFERED_TRIAL:
        return expected(sources, facts, reader)
    if answer.state == State.TRAIN_LINK and facts.links is not None:
        return work(sources, facts, facts.links.leading(facts.main_style)[0], reader)
    return None


def factor(reader: Reader) -> float:
    """Reader's units in a kilogram."""
    return 1.0 / KG_PER_LB if reader.weight_unit == "lb" else 1.0


def short_day(day: date) -> str:
    """ "28 Sep"."""
    return f"{day.day} {day:%b}"


def trial_course(athlete: Athlete, sources: Sources, facts: DecisionFacts, reader: Reader) -> Picture | None:
    """One point a day of the new style, the old style's level, today and the decision day."""
    row, trial = running_trial(athlete), facts.trial
    if row is None or trial is None:
        return None
    verdict = record_from(TrialVerdict, sources.profile("trial")["verdict"])
    plan, units = plan_of(row), factor(reader)
    style_of = {one.key: one.tags.style for one in sources.lifter.sets}
    new, _ = split_points(verdict.points, style_of, row.new_style)
    ends = working_day(trial.decision_day, facts.holidays)
    days = float((ends - trial.begins).days)
    level = trial.old_kg * units if trial.old_kg else None
    course = Course(
        trial.new_style,
        trial.old_style,
        days,
        tuple((float((p.day - trial.begins).days), p.estimate_kg * units) for p in new),
        _band(plan, sources, level) if level else (),
        level,
        (trial.estimate_kg[0] * units, trial.estimate_kg[1] * units) if trial.estimate_kg else None,
        float((facts.day - trial.begins).days),
        short_day(trial.begins),
        short_day(ends),
        reader.weight_unit,
    )
    title = f"{say(Message('picture.course'), reader)}, {reader.weight_unit}"
    caption = say(course_caption(course, trial.days, trial.days_planned, units), reader)
    return Picture(
        title, drawn(course_chart(course, title), "course"), caption, explore=reverse("trial", args=[athlete.pk])
    )


def _band(plan: TrialPlan, sources: Sources, level: float) -> tuple[tuple[float, float, float], ...]:
    usual = expected_course(plan, sources.numbers)
    return tuple((7.0 * w, level * a, level * b) for w, a, b in zip(usual.weeks, usual.low, usual.high, strict=True))


def course_caption(course: Course, done: int, planned: int, units: float) -> Message:
    """How far the last day lies from the old level, and whether that is usual for its week."""
    values: dict[str, Value] = {
        "old": course.old_style, "new": course.new_style, "days": done, "planned": planned,
    }  # fmt: skip
    if course.level is None or not course.points:
        return Message("caption.no-level", values)
    day, load = course.points[-1]
    gap = round(load) - round(course.level)
    if gap == 0:
        return Message("caption.level", values)
    values |= {"gap": kg(abs(gap) / units), "week": int(day // 7) + 1}
    low = next((a for at, a, _ in reversed(course.band) if at <= day), 0.0)
    values["usual"] = "usual" if load >= low else "more than usual"
    return Message("caption.below" if gap < 0 else "caption.above", values)


def expected(sources: Sources, facts: DecisionFacts, reader: Reader) -> Picture | None:
    """The usual course of a style that ends level, from the day a trial would start."""
    if facts.best_kg is None:
        return None
    begins = working_day(trial_start(facts, sources.numbers), facts.holidays)
    weeks = trial_weeks(facts, sources.numbers)
    ends = working_day(begins + timedelta(weeks=weeks), facts.holidays)
    rate = sources.numbers["trial.sessions_a_week"]
    plan = TrialPlan("", facts.main_style, facts.other_style, begins, weeks, rate, ends)
    level = facts.best_kg * factor(reader)
    band = _band(plan, sources, level)
    course = Course(
        facts.other_style, facts.main_style, 7.0 * weeks, (), band, level, None, None,
        short_day(begins), short_day(ends), reader.weight_unit,
    )  # fmt: skip
    title = f"{say(Message('picture.expect'), reader)}, {reader.weight_unit}"
    caption = say(Message("caption.expect", {"month": f"{ends:%B}"}), reader)
    return Picture(title, drawn(course_chart(course, title), "course"), caption)


def work(sources: Sources, facts: DecisionFacts, link: str, reader: Reader) -> Picture | None:
    """Eight weeks of work for the link as loads, easy weeks hatched."""
    weeks = weeks_ahead(link, facts.best_kg, sources.numbers)
    if not weeks:
        return None
    units = factor(reader)
    step = 5.0 if reader.weight_unit == "lb" else 2.5
    bars = [Week(round(one.load_kg * units / step) * step, one.easy) for one in weeks]
    begins = working_day(trial_start(facts, sources.numbers), facts.holidays)
    ends = working_day(begins + timedelta(weeks=len(weeks)), facts.holidays)
    title = f"{say(Message(f'picture.work-{link}'), reader)}, {reader.weight_unit}"
    chart = weeks_chart(bars, short_day(begins), short_day(ends), title)
    return Picture(title, drawn(chart, "work"), say(Message("caption.work"), reader))
