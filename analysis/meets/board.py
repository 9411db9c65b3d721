"""The handler's board: everything it needs without network, and the same as cards for a page without scripts.

No body mass goes in here, so equal totals are not parted by it; the page says so.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from datetime import datetime
from typing import Any

from analysis.core.meets import Result as Taken
from analysis.core.meets import plans, tree
from analysis.core.meets.day import Entrant, changes_left, lifts_before, next_default, order_of_lifting
from analysis.core.records.estimates import AttemptPlan, Branch
from analysis.meets.planning import EntryPlan, replanned
from analysis.meets.rules import COUNTED, RuleSet, attempt_of, entrant_of, lifts_of, rules_of, standing_rows
from analysis.meets.words import attempt_words, chance_words
from athletes.access.permissions import may
from athletes.floor.state import owner_of
from athletes.meets.services import standing_words
from athletes.models import Attempt, Meet, MeetEntry, User
from athletes.models.choices import Lift, MissPosition, Result, RuleReason
from athletes.schema.sets import HEAVIEST_KG

Plans = dict[int, EntryPlan]


def entries_of(meet: Meet) -> list[MeetEntry]:
    """The meet's entries with their people and attempts, by lot and then as they were entered."""
    rows = meet.entries.select_related("athlete", "athlete__club", "meet", "meet__club").prefetch_related("attempts")
    return sorted(rows, key=lambda entry: (entry.lot is None, entry.lot or 0, entry.pk))


def lift_now(meet: Meet, entries: Iterable[MeetEntry]) -> str:
    """The lift that is under way: the first in order with an attempt still to come, else the last."""
    lifts, rows = lifts_of(meet), list(entries)
    for lift in lifts:
        for entry in rows:
            done = [a for a in entry.attempts.all() if a.lift == lift and a.result]
            waits = any(a.lift == lift for a in entry.attempts.all()) or lift == "deadlift"
            if waits and len(done) < COUNTED:
                return lift
    return lifts[-1]


def shown_result(entry: MeetEntry, result: str, viewer: User) -> str:
    """The result as this viewer may read it: a stop for pain is health, and reads as not tried."""
    if result == Result.STOPPED_PAIN and entry.athlete and not may(viewer, entry.athlete, "health"):
        return Result.NOT_TRIED
    return result


PLAN_LIMITS = {  # what the phone plans by besides the settings: the core's own numbers, so that both plan alike
    "attempts": tree.ATTEMPTS,
    "no_chance": tree.NO_CHANCE,
    "surprise": plans.SURPRISE,
    "lowest": plans.LOWEST,
    "highest": plans.HIGHEST,
    "bomb_share": plans.BOMB_SHARE,
}


def board_state(meet: Meet, entries: list[MeetEntry], plans: Plans, viewer: User, now: datetime) -> dict[str, Any]:
    """The meet as the script re-plans and re-orders it."""
    lifts = lifts_of(meet)
    return {
        "meet": meet.pk,
        "name": meet.name,
        "club": meet.club_id,
        "user": viewer.pk,
        "viewer": str(viewer),
        "owner": owner_of(viewer, meet.club),
        "lifts": [{"key": lift, "name": Lift(lift).label} for lift in lifts],
        "lift": lift_now(meet, entries),
        "rules": rules_of(meet).plain(),
        "heaviest_kg": HEAVIEST_KG,
        "now": now.isoformat(),
        "results": dict(Result.choices),
        "misses": MissPosition.choices,
        "refusals": RuleReason.choices,
        "entries": [entry_state(entry, plans.get(entry.pk), viewer) for entry in entries],
    }


def entry_state(entry: MeetEntry, plan: EntryPlan | None, viewer: User) -> dict[str, Any]:
    """One lifter: attempts as they stand, and what is believed of the day for those of the club."""
    return {
        "id": entry.pk,
        "name": str(entry),
        "rival": entry.athlete_id is None,
        "lot": entry.lot or 0,
        "style": entry.get_style_display() if entry.style else "",
        "subtotal_kg": entry.subtotal_kg or 0,
        "goal_kg": entry.goal_kg,
        "attempts": [attempt_state(entry, row, viewer) for row in entry.attempts.all()],
        "belief": belief_of(plan) if plan else None,
    }


def attempt_state(entry: MeetEntry, row: Attempt, viewer: User) -> dict[str, Any]:
    """One attempt as it stands."""
    return {
        "lift": row.lift,
        "number": row.number,
        "load_typed": row.load_typed,
        "load_unit": row.load_unit,
        "load_kg": row.load_kg,
        "result": shown_result(entry, row.result, viewer),
        "reason": row.reason,
        "changes": row.changes,
        "declared": row.declared_at.isoformat() if row.declared_at else "",
        "ended": row.ended_at.isoformat() if row.ended_at else "",
        "stands": standing_words(row),
    }


def belief_of(plan: EntryPlan) -> dict[str, Any]:
    """What the script needs to plan the rest of the day by the same rules, and the plan made before it."""
    numbers = plan.settings
    if plan.day is None:
        return {"why_not": plan.why_not, "plans": []}
    return {
        "why_not": "",
        "careful": bool(plan.careful),
        "thin": plan.day.thin,
        "median": plan.day.median_kg,
        "sd": plan.day.sd_log,
        "slip": numbers["meet.slip"],
        "cost": numbers["meet.attempt_cost"],
        "step": numbers["meet.step"],
        "lean": numbers["meet.alternative_risk"],
        "limits": PLAN_LIMITS,
        "plans": [{"name": one.name, "root": branch_state(one.root)} for one in plan.plans],
    }


def branch_state(branch: Branch | None) -> dict[str, Any] | None:
    """A decision tree as nested data."""
    if branch is None:
        return None
    return {
        "load": branch.load_kg,
        "chance": branch.chance,
        "made": branch_state(branch.if_made),
        "missed": branch_state(branch.if_missed),
    }


@dataclass(frozen=True, slots=True)
class Suggestion:
    """A load for the next attempt with its chance in words, and what follows."""

    name: str
    load_kg: float
    words: str
    if_made_kg: float | None
    if_missed_kg: float | None


def suggestions(plans: Iterable[AttemptPlan], *, read: bool) -> list[Suggestion]:
    """The first step of each plan; the chance of an opener waits until the day was `read`."""
    return [
        Suggestion(
            plan.name,
            plan.root.load_kg,
            chance_words(plan.root.chance) if read else "",
            plan.root.if_made.load_kg if plan.root.if_made else None,
            plan.root.if_missed.load_kg if plan.root.if_missed else None,
        )
        for plan in plans
    ]


@dataclass(frozen=True, slots=True)
class Card:
    """One lifter on the board without scripts."""

    entry: MeetEntry
    done: tuple[str, ...]
    due: Attempt | None
    number: int | None
    default_kg: float | None
    before: int | None
    changes_left: int
    repeats: bool
    suggestions: tuple[Suggestion, ...]

    @property
    def saw(self) -> str:
        """What stood of the attempt when the page was made."""
        return standing_words(self.due)


def cards(meet: Meet, entries: list[MeetEntry], plans: Plans, lift: str) -> list[Card]:
    """The lifters in their order of lifting, those who are done last."""
    rule_set = rules_of(meet)
    entrants = {entry.pk: entrant_of(entry, (lift,)) for entry in entries}
    order = order_of_lifting(entrants.values(), lift)
    pulled = plans if lift == "deadlift" else {}
    found = [card_of(entry, entrants[entry.pk], lift, rule_set, order, pulled.get(entry.pk)) for entry in entries]
    return sorted(found, key=lambda card: (card.number is None, card.before is None, card.before or 0))


def card_of(
    entry: MeetEntry,
    entrant: Entrant,
    lift: str,
    rule_set: RuleSet,
    order: tuple[tuple[str, int, float], ...],
    plan: EntryPlan | None,
) -> Card:
    """One card: what is done, what is due, and what the plan says of the next load."""
    rows = standing_rows(entry.attempts.all(), lift)
    done = tuple(row for row in rows if row.result)
    due = next((row for row in rows if not row.result), None)
    over = len(done) >= rule_set.attempts
    previous = attempt_of(done[-1]) if done else None
    open_to_plan = plan is not None and not over and (due is None or not due.declared_at)
    return Card(
        entry=entry,
        done=tuple(attempt_words(row) for row in done),
        due=due,
        number=None if over else len(done) + 1,
        default_kg=next_default(previous, rule_set.rules) if previous else None,
        before=lifts_before(order, entrant.key),
        changes_left=changes_left(entrant, lift, rule_set.rules),
        repeats=previous is not None and previous.result != "made",
        suggestions=tuple(suggestions(next_plans(plan, done), read=bool(done))) if open_to_plan and plan else (),
    )


def next_plans(plan: EntryPlan, done: tuple[Attempt, ...]) -> tuple[AttemptPlan, ...]:
    """Plans of the attempts left; none once an attempt was not tried or stopped, which say nothing of strength.

    A careful plan is only walked along: nothing outside it is suggested.
    """
    if not done:
        return plan.plans
    if any(row.result in (Result.NOT_TRIED, Result.STOPPED_PAIN) for row in done):
        return ()
    taken = [Taken(row.load_kg, row.result == Result.MADE) for row in done]
    if plan.careful and plan.plans:
        root = walked(plan.plans[0].root, taken)
        return (replace(plan.plans[0], root=root),) if root else ()
    return replanned(plan, taken)


def walked(root: Branch | None, taken: list[Taken]) -> Branch | None:
    """Where the results so far lead in a tree; None when they left it."""
    for one in taken:
        if root is None or abs(root.load_kg - one.load_kg) > 1e-6:
            return None
        root = root.if_made if one.made else root.if_missed
    return root
