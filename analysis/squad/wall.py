"""The stored profile of one lifter's row on the squad wall: reasons in words, half a year as points, the range now."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from django.db.models import Max, Q

from analysis.core.decision.answer import answer
from analysis.core.estimates.running_best import running_bests
from analysis.core.records.messages import HEALTH
from analysis.core.records.plain import to_plain
from analysis.core.records.squad import WallReason
from analysis.core.squad.review import AtHand
from analysis.core.squad.signs import drawn_misses, half_year, wall_signs
from analysis.core.squad.wall import wall_reasons
from analysis.core.styles.comparison import best_by_style
from analysis.decision.facts import decision_facts
from analysis.store.profiles import Payload, Sources
from analysis.text.say import Reader, say
from athletes.models import Athlete, MeasuringVisit


def compute_wall(sources: Sources) -> Payload:
    """The row of one athlete; without the sources' health it is made as if no health entry existed."""
    lifter, day, numbers = sources.lifter, sources.as_of, sources.numbers
    facts = decision_facts(sources.athlete, sources)
    bests = running_bests(lifter.sets, day, numbers)
    hand = AtHand(lifter, day, numbers, bests, None, measured_on(sources))
    reasons = wall_reasons(answer(facts, numbers), facts, wall_signs(hand), numbers)
    main = best_by_style(lifter, day, numbers).get(facts.main_style)
    name = sources.athlete.name.split()[0]
    return {
        "main": facts.main_style,
        "range": to_plain(main.range_kg) if main else None,
        "lines": to_plain(half_year(hand)),
        "misses": to_plain(drawn_misses(hand)),
        "reasons": said(reasons, name),
    }


def measured_on(sources: Sources) -> Any:
    """Day of the latest visit at which more than body mass was measured; None without one."""
    built = Q(measurements__isnull=False) & ~Q(measurements__key="mass")
    visits = MeasuringVisit.objects.filter(built, athlete=sources.athlete, day__lte=sources.as_of)
    return visits.aggregate(on=Max("day"))["on"]


def said(reasons: Iterable[WallReason], name: str) -> list[dict[str, Any]]:
    """Reasons as plain data with their words; they name days, counts and chances, so no reader's units are needed."""
    reader = Reader(allowed=HEALTH, name=name)
    return [
        {
            "code": one.code,
            "due": one.due.value,
            "text": say(one.message, reader),
            "button": say(one.button, reader),
            "leads": one.leads,
            "evidence": one.evidence[:80],
            "private": one.private,
        }
        for one in reasons
    ]


FAILED: Payload = {
    "main": "", "range": None, "lines": {}, "misses": [], "reasons": [], "failed": True,
}  # fmt: skip


def initials(athlete: Athlete) -> str:
    """ "K. V." for a screen that others see."""
    return " ".join(f"{part[0].upper()}." for part in athlete.name.split()[:3])
