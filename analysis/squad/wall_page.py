"""The squad wall for one viewer: who needs the coach today, who this week, who goes as planned."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from datetime import date, timedelta
from typing import Any

from django.urls import reverse
from django.utils import timezone
from django.utils.safestring import mark_safe

from analysis.core.records.messages import Quantity, Unit
from analysis.core.squad.wall import ORDER
from analysis.drawings.trend import sparkline
from analysis.models import DismissedReason
from analysis.squad.wall import initials
from analysis.store.profiles import Profile
from analysis.text.say import Reader, quantity
from athletes.access.permissions import may
from athletes.models import Athlete, Attempt, PlanItem, User

UNDO = timedelta(seconds=10)
MOST_DUE = 13  # rows of 43 px that fit 800 px under heading and two group names; the rest is "n more this week"
MOST_QUIET = 30  # lifters; in a larger squad those who go as planned fold to a count
FOR_DECIDERS = frozenset({"trial-plan", "test-day", "health-notes"})


@dataclass(frozen=True, slots=True)
class WallLine:
    """One lifter: the name as shown, the half year, the range now, and the reason to look if there is one."""

    athlete: Athlete
    name: str
    trend: str = ""
    range: str = "–"
    reason: Mapping[str, Any] | None = None
    href: str = ""
    may_set_aside: bool = False
    undo: str = ""

    @property
    def rank(self) -> tuple[int, str]:
        """Place within a group: the order of reasons, then the name."""
        place = ORDER.index(self.reason["code"]) if self.reason else len(ORDER)
        return place, self.athlete.name_key


@dataclass(frozen=True, slots=True)
class Wall:
    """The page in groups; `more` are rows of this week beyond what fits."""

    heading: str
    today: list[WallLine]
    week: list[WallLine]
    more: list[WallLine]
    quiet: list[WallLine]
    updating: list[WallLine]
    folded: bool = False

    @property
    def order(self) -> list[int]:
        """The lifters as listed, for previous and next."""
        lines = [*self.today, *self.week, *self.more, *self.quiet, *self.updating]
        return [line.athlete.pk for line in lines]


def wall_of(profiles: Iterable[Profile], viewer: User, day: date, hidden: bool = False) -> Wall:
    """The wall of profiles this viewer may read; with names hidden they are those for who may not see health."""
    profiles = list(profiles)
    people = [p.athlete for p in profiles]
    aside = {(d.athlete_id, d.code): d for d in DismissedReason.objects.filter(athlete__in=people)}
    settled = settled_reasons(people, day)
    line = _line_maker(viewer, hidden, aside, settled)
    lines = [line(p) for p in profiles]
    today = sorted((x for x in lines if x.reason and x.reason["due"] == "today"), key=lambda x: x.rank)
    week = sorted((x for x in lines if x.reason and x.reason["due"] == "week"), key=lambda x: x.rank)
    room = max(MOST_DUE - len(today), 0)
    known = {p.athlete.pk for p in profiles if p.payload is not None}
    quiet = [x for x in lines if x.reason is None and x.athlete.pk in known]
    return Wall(
        heading=heading_of(len(today), len(week), len(lines), len(lines) - len(known)),
        today=today,
        week=week[:room],
        more=week[room:],
        quiet=sorted(quiet, key=lambda x: (not x.undo, x.athlete.name_key)),
        updating=[x for x in lines if x.athlete.pk not in known],
        folded=len(quiet) > MOST_QUIET,
    )


def heading_of(today: int, week: int, lifters: int, updating: int) -> str:
    """The work as the heading of the page; while rows are missing nobody is said to need nothing."""
    if not lifters:
        return "No lifters yet"
    if updating and not today:
        return f"Looking through {updating} log{'s' if updating > 1 else ''}"
    if not today and not week:
        return "Nobody needs you today"
    if not today:
        return f"Nobody needs you today, {week} this week"
    who = f"{today} lifter{'s' if today > 1 else ''} need{'' if today > 1 else 's'} you today"
    return f"{who}, {week} this week" if week else who


def settled_reasons(people: Iterable[Athlete], day: date) -> set[tuple[int | None, str]]:
    """Reasons that a plan has settled since the profile was stored: attempts of a meet to come, a planned test."""
    ahead = Attempt.objects.filter(entry__athlete__in=people, entry__meet__day__gte=day)
    tests = PlanItem.objects.filter(athlete__in=people, is_test=True, day__gte=day)
    planned = {(pk, "attempts") for pk in ahead.values_list("entry__athlete", flat=True)}
    return planned | {(pk, "test-day") for pk in tests.values_list("athlete", flat=True)}


def _line_maker(
    viewer: User,
    hidden: bool,
    aside: Mapping[tuple[int, str], DismissedReason],
    settled: set[tuple[int | None, str]],
) -> Callable[[Profile], WallLine]:
    now, reader = timezone.now(), Reader(weight_unit=viewer.weight_unit)
    midnight = timezone.localtime(now).replace(hour=0, minute=0, second=0, microsecond=0)

    def line(profile: Profile) -> WallLine:
        athlete, payload = profile.athlete, profile.payload
        name = initials(athlete) if hidden else athlete.name
        if payload is None:
            return WallLine(athlete, name)
        decides = may(viewer, athlete, "decide")
        waiting = [r for r in payload["reasons"] if (athlete.pk, r["code"]) not in settled]
        own = [d for r in waiting if (d := aside.get((athlete.pk, r["code"]))) and d.evidence == r["evidence"]]
        gone = {d.code for d in own}
        open_ones = [r for r in waiting if r["code"] not in gone]
        fresh = max((d for d in own if d.on >= midnight), key=lambda d: d.on, default=None)
        first = None if fresh else next(iter(open_ones), None)
        return WallLine(
            athlete,
            name,
            trend=mark_safe(sparkline(payload["lines"], payload["misses"])),  # noqa: S308 - numbers and style names
            range=range_words(payload["range"], reader),
            reason=first,
            href=leads(first, athlete, decides) if first else "",
            may_set_aside=decides and not hidden,
            undo=fresh.code if fresh and decides and fresh.on >= now - UNDO else "",
        )

    return line


def leads(reason: Mapping[str, Any], athlete: Athlete, decides: bool) -> str:
    """Where a reason is settled; for who may not decide, the page that shows the same."""
    address = reason["leads"]
    if not decides and address in FOR_DECIDERS:
        address = "decision"
    return reverse(address, args=[athlete.pk])


def range_words(ends: list[float] | None, reader: Reader) -> str:
    """ "182–196", in the reader's unit, which the legend names once; a dash without an estimate."""
    if not ends:
        return "–"
    return quantity(Quantity(ends[0], Unit.KG, ends[0], ends[1]), reader).rsplit(" ", 1)[0]
