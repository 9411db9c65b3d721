"""Who is in the room tonight and what they are to do."""

from datetime import date

from athletes.demo.lifters import Lifter
from athletes.demo.stories import COURSES
from athletes.models import Athlete, Bar, Club, PlanItem, Presence, User


def plan_tonight(pairs: list[tuple[Lifter, Athlete]], bar: Bar, coach: User, today: date) -> None:
    """Plans for half of the lifters, some of them already here; asks nothing of a beginner but fives."""
    tonight = [(lifter, athlete) for lifter, athlete in pairs if lifter.weeks][::2]
    items = []
    for lifter, athlete in tonight:
        style = "sumo" if lifter.story in COURSES and lifter.story != "dropped" else lifter.style
        reps, share = (5, 0.70) if lifter.standing in {"beginner", "under-18"} else (3, 0.80)
        for order, (sets, part) in enumerate(((1, share), (2, share - 0.08)), start=1):
            load = round(lifter.end_kg * part / 2.5) * 2.5
            items.append(
                PlanItem(
                    athlete=athlete,
                    day=today,
                    order=order,
                    style=style,
                    bar=bar,
                    bar_kind=bar.kind,
                    sets=sets,
                    reps=reps,
                    load_typed=f"{load:g}",
                    load_unit="kg",
                    load_kg=load,
                    rpe_cap=8.0,
                    cue="slack out, then push" if order == 1 else "",
                    author=coach,
                )
            )
    PlanItem.objects.bulk_create(items)
    Presence.objects.bulk_create(Presence(athlete=a, day=today, marked_by=coach) for _, a in tonight[:4])


def refresh_tonight(clubs: list[Club], today: date) -> None:
    """Carry the last planned evening of a demo loaded on an earlier day over to today, if today has no plan."""
    for club in clubs:
        items = PlanItem.objects.filter(athlete__club=club)
        last = items.order_by("-day").values_list("day", flat=True).first()
        if last is None or last >= today:
            continue
        copies = list(items.filter(day=last))
        for item in copies:
            item.pk, item.day = None, today
        PlanItem.objects.bulk_create(copies)
