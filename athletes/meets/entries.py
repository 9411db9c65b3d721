"""Taking in what a phone has queued about attempts at a meet: each entry once, never over an unseen change."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import datetime
from typing import Any

from athletes.access.permissions import may
from athletes.meets.services import AttemptReport, say_attempt
from athletes.models import Club, MeetEntry, User
from athletes.models.choices import Lift, MissPosition, Result, RuleReason
from athletes.units.loads import UnreadableAmount, parse_load

MEET_LIFTS = (Lift.SQUAT, Lift.BENCH, Lift.DEADLIFT)
REASONS = {
    Result.MISSED: MissPosition.values,
    Result.STOPPED_PAIN: MissPosition.values,
    Result.NO_LIFT: RuleReason.values,
}


class Unreadable(ValueError):
    """A queued entry that cannot be taken; the message says why."""


def take_attempt(user: User, club: Club, uid: str, sent: Mapping[str, Any], at: datetime) -> tuple[str, str]:
    """Write a queued attempt; returns the outcome's status and its reason in words."""
    entry = find_entry(user, club, sent.get("entry"))
    if entry is None:
        return "refused", "This lifter is not, or no longer, entered, or not one you can handle."
    try:
        said = parse_attempt(uid, sent, at)
    except (Unreadable, UnreadableAmount) as problem:
        return "refused", str(problem)
    became = say_attempt(entry, said, user)
    return became.status, became.why


def find_entry(user: User, club: Club, pk: object) -> MeetEntry | None:
    """An entry at a meet of the club, if the user may handle the lifter."""
    if not isinstance(pk, int) or isinstance(pk, bool) or not 0 < pk < 2**63:
        return None
    entry = MeetEntry.objects.select_related("athlete", "meet").filter(pk=pk, meet__club=club).first()
    if entry is None or (entry.athlete is not None and not may(user, entry.athlete, "plan")):
        return None
    return entry


def parse_attempt(uid: str, sent: Mapping[str, Any], at: datetime) -> AttemptReport:
    """What the phone says, or Unreadable with what is wrong."""
    lift, number, result = sent.get("lift"), sent.get("number"), sent.get("result") or ""
    if lift not in MEET_LIFTS:
        raise Unreadable("The lift of this entry is not known.")
    if not isinstance(number, int) or isinstance(number, bool) or not 1 <= number <= 4:
        raise Unreadable("The number of this attempt is not 1 to 4.")
    if result and result not in Result.values:
        raise Unreadable("The result of this entry is not known.")
    load = parse_load(str(sent.get("load_typed") or ""), "lb" if sent.get("load_unit") == "lb" else "kg")
    reason = sent.get("reason") if sent.get("reason") in (REASONS[Result(result)] if result in REASONS else ()) else ""
    saw = None if sent.get("sure") is True else str(sent.get("saw") or "")
    return AttemptReport(lift, number, load, result, str(reason), at, saw, uid)
