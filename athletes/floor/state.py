"""What the board of a club shows tonight: who is here, their plan, today's sets, and the next set filled in.

No body mass and no soreness ever goes in here; pain is told apart only to those who may read health notes.
"""

from collections import defaultdict
from datetime import date, datetime, timedelta
from typing import TYPE_CHECKING, Any, TypedDict

from django.db.models import Max, OuterRef, Q, QuerySet, Subquery

from athletes.access.permissions import may, visible_athletes
from athletes.log.plan_services import by_athlete, plans_of_day, prefill, tags_of
from athletes.log.services import BEST_WINDOW
from athletes.log.words import effort_words, plan_line, pull_words, reps_words, result_words
from athletes.models import Athlete, Club, LiftSet, PlanItem, User
from athletes.models.choices import Result, TrialStatus
from athletes.units.loads import PLATES

if TYPE_CHECKING:
    from django_stubs_ext import WithAnnotations


class BoardMarks(TypedDict):
    """What the query of the board adds to each athlete."""

    here: int | None
    latest_set: int | None
    new_style: str | None


RECENT = timedelta(days=60)


def owner_of(user: User, club: Club) -> str:
    """Whose the queue and the kept pages on a phone are: one user in one club."""
    return f"{user.pk}-{club.pk}"


def board_state(user: User, club: Club, now: datetime) -> dict[str, Any]:
    """Everything the board needs, also without network."""
    day = now.date()
    lifters = list(lifters_of(user, club, day))
    keys = [a.pk for a in lifters]
    sets, plans = sets_of_day(keys, day), plans_of_day(keys, day)
    lasts, bests = last_sets(lifters), best_loads(keys, day)
    return {
        "owner": owner_of(user, club),
        "user": user.pk,
        "name": str(user),
        "club": club.pk,
        "club_name": club.name,
        "day": f"{day:%Y-%m-%d}",
        "unit": user.weight_unit,
        "plates": PLATES,
        "bars": [{"id": bar.pk, "name": bar.name, "kind": bar.kind} for bar in club.bars.order_by("name")],
        "lifters": [lifter(a, user, plans[a.pk], sets[a.pk], lasts.get(a.pk), bests.get(a.pk, {})) for a in lifters],
    }


def lifters_of(user: User, club: Club, day: date) -> "QuerySet[WithAnnotations[Athlete, BoardMarks]]":
    """Active lifters of the club whom the user may see, with whether they are marked as here."""
    latest = LiftSet.objects.filter(athlete=OuterRef("pk")).order_by("-day", "-order", "-pk").values("pk")[:1]
    trial = Q(trials__status=TrialStatus.RUNNING, trials__started_on__lte=day)
    return (
        visible_athletes(user)
        .filter(club=club, active=True)
        .annotate(
            here=Max("presences__pk", filter=Q(presences__day=day)),
            latest_set=Subquery(latest),
            new_style=Max("trials__new_style", filter=trial),
        )
        .order_by("name_key", "pk")
    )


def sets_of_day(keys: list[int], day: date) -> dict[int, list[LiftSet]]:
    """Today's sets by athlete, in the order they were lifted."""
    rows = LiftSet.objects.filter(athlete__in=keys, day=day).select_related("author", "bar").order_by("order", "pk")
    return by_athlete(rows)


def last_sets(lifters: "list[WithAnnotations[Athlete, BoardMarks]]") -> dict[int, LiftSet]:
    rows = LiftSet.objects.filter(pk__in=[a.latest_set for a in lifters if a.latest_set]).select_related(
        "bar", "author"
    )
    return {row.athlete_id: row for row in rows}


def best_loads(keys: list[int], day: date) -> dict[int, dict[str, float]]:
    """Heaviest made load of the last 12 weeks by athlete and "lift style", kg."""
    rows = (
        LiftSet.objects.filter(athlete__in=keys, result=Result.MADE, day__gte=day - BEST_WINDOW, day__lte=day)
        .order_by()
        .values("athlete", "lift", "style")
        .annotate(best=Max("load_kg"))
    )
    found: dict[int, dict[str, float]] = defaultdict(dict)
    for row in rows:
        found[row["athlete"]][f"{row['lift']} {row['style']}"] = row["best"]
    return found


def lifter(
    athlete: "WithAnnotations[Athlete, BoardMarks]",
    user: User,
    plan: list[PlanItem],
    sets: list[LiftSet],
    last: LiftSet | None,
    bests: dict[str, float],
) -> dict[str, Any]:
    pain_shown = may(user, athlete, "health")
    return {
        "id": athlete.pk,
        "name": athlete.name,
        "here": athlete.here is not None,
        "new_style": athlete.new_style or "",
        "plan": [planned(item, last, user.weight_unit) for item in plan],
        "free": prefill(None, last, user.weight_unit),
        "last": told(last, pain_shown) if last else None,
        "sets": [told(row, pain_shown) for row in sets],
        "bests": bests,
    }


def planned(item: PlanItem, last: LiftSet | None, unit: str) -> dict[str, Any]:
    line = plan_line(item)
    return {
        "id": item.pk, "work": line.work, "pull": line.pull, "note": item.note, "cue": item.cue, "sets": item.sets,
        "load_kg": item.load_kg, "fields": prefill(item, last, unit), "is_test": item.is_test,
    }  # fmt: skip


def told(row: LiftSet, pain_shown: bool) -> dict[str, Any]:
    """One logged set as the board tells it."""
    stopped = row.result == Result.STOPPED_PAIN
    return {
        "uid": str(row.uid),
        "pk": row.pk,
        "athlete": row.athlete_id,
        "seen": row.changed.isoformat(),
        "by": str(row.author) if row.author else "",
        "author": row.author_id,
        "order": row.order,
        "load_typed": row.load_typed,
        "load_unit": row.load_unit,
        "load_kg": row.load_kg,
        "reps": reps_words(row.reps_made, row.reps_tried),
        "reps_tried": row.reps_tried,
        "effort": effort_words(row.effort_typed),
        "pull": pull_words(row),
        "result": result_words(row.result, pain_shown),
        "made": row.result == Result.MADE,
        "where": row.get_miss_position_display() if row.miss_position and (pain_shown or not stopped) else "",
        "tags": {name: value for name, value in tags_of(row).items() if name in ("lift", "style", "start", "paused")},
    }
