"""Reasons for and against the other style, what those besides kilos are worth, and where coaches and studies differ."""

from __future__ import annotations

from dataclasses import dataclass

from analysis.core.records.decision import DecisionFacts
from analysis.core.records.messages import HEALTH, Message, Quantity, Unit, kg
from analysis.core.settings import DEFAULTS, Settings

STANDS_OUT = 0.5  # SD from which strength or build is named as a reason (calibration)
WORTH_SAYING = 0.005  # log difference from which a measured result is a reason (below: level)


@dataclass(frozen=True, slots=True)
class Reasons:
    """Messages for and against the other style; worth (log) of those besides kilos, those that are wishes or needs."""

    towards: tuple[Message, ...]
    against: tuple[Message, ...]
    worth: float
    needs: float


def reasons_of(facts: DecisionFacts, settings: Settings = DEFAULTS) -> Reasons:
    """Every stated reason, with what the practice settings make of those besides kilos.

    `needs` sums only reasons that ask for the other style (soreness, two heavy days, bar, grip, house rule); `worth`
    also takes off for a style that was tried and left.
    """
    towards: list[Message] = []
    against: list[Message] = []
    for message, speaks_for_sumo in (*_of_strength(facts), *_of_build(facts), *_of_results(facts)):
        (towards if speaks_for_sumo == ("sumo" in facts.other_style) else against).append(message)
    needs = 0.0
    for message, worth in _besides_kilos(facts, settings):
        side = 1.0 if "sumo" in facts.other_style else -1.0
        needs += side * worth
        (towards if side > 0 else against).append(message)
    if _house_rule(facts, settings):
        needs += settings["style.reason_least"]
        towards.append(Message("reason.house-rule"))
    worth = needs
    if has_left(facts, settings):
        worth -= settings["style.left_worth"]
        count = facts.left_after_sessions[facts.other_style]
        against.append(Message("reason.left", {"sessions": count, "style": facts.other_style}))
    years = facts.years.get(facts.main_style, 0.0)
    if years > 0:
        against.append(Message("reason.years", {"years": Quantity(years, Unit.YEAR), "style": facts.main_style}))
    return Reasons(tuple(towards), tuple(against), worth, needs)


def has_left(facts: DecisionFacts, settings: Settings = DEFAULTS) -> bool:
    """Whether the other style was tried for long enough and left."""
    return facts.left_after_sessions.get(facts.other_style, 0) >= settings["style.left_sessions"]


def _of_strength(facts: DecisionFacts) -> list[tuple[Message, bool]]:
    if facts.links is None or abs(facts.links.legs_over_back) < STANDS_OUT:
        return []
    strong_legs = facts.links.legs_over_back > 0
    return [(Message("reason.legs-over-back" if strong_legs else "reason.back-over-legs"), strong_legs)]


def _of_build(facts: DecisionFacts) -> list[tuple[Message, bool]]:
    if facts.build is None:
        return []
    found = []
    if abs(facts.build.score) >= STANDS_OUT:
        for_sumo = facts.build.score > 0
        found.append((Message("reason.build-sumo" if for_sumo else "reason.build-conventional"), for_sumo))
    return found


def _of_results(facts: DecisionFacts) -> list[tuple[Message, bool]]:
    found = []
    for result in facts.results:
        if abs(result.difference) >= WORTH_SAYING:
            values = {"source": result.source, "style": "sumo" if result.difference > 0 else "conventional"}
            found.append((Message("reason.own-results", values), result.difference > 0))
    return found


def _besides_kilos(facts: DecisionFacts, settings: Settings) -> list[tuple[Message, float]]:
    """Reasons that speak for sumo, with their worth (log)."""
    found = []
    soreness = facts.health.back_soreness
    if soreness is not None and soreness >= settings["style.soreness_from"]:
        values = {"soreness": Quantity(soreness, Unit.SORENESS, private=HEALTH)}
        found.append((Message("reason.sore-back", values, private=HEALTH), settings["style.soreness_worth"]))
    if facts.wishes_two_heavy_days:
        found.append((Message("reason.two-heavy-days"), settings["style.two_days_worth"]))
    if facts.bar_and_grip.flexible_at_meet and (facts.best_kg or 0.0) >= settings["style.bar_from"]:
        found.append((Message("reason.flexible-bar"), settings["style.bar_worth"]))
    limiting = facts.links is not None and facts.links.leading("conventional")[0] == "grip"
    if limiting or facts.bar_and_grip.holds is False:
        found.append((Message("reason.grip"), settings["style.grip_worth"]))
    return found


def _house_rule(facts: DecisionFacts, settings: Settings) -> bool:
    """Whether the club's house rule speaks: adults with little steady conventional; the gates come before it."""
    adult = facts.standing == "trained" and (facts.age is None or facts.age >= 18)
    few = facts.years.get("conventional", 0.0) < settings["style.house_years"]
    return settings.on("house.sumo_first") and adult and few and "sumo" in facts.other_style


def coaches_lean(facts: DecisionFacts) -> str:
    """The style that rules of the trade point to, "" when none speaks or they contradict (common practice, no source).

    Weak back or strong legs: sumo. Strong back: conventional. Long arms: conventional; short arms: sumo.
    """
    votes = 0
    if facts.links is not None and abs(facts.links.legs_over_back) >= STANDS_OUT:
        votes += 1 if facts.links.legs_over_back > 0 else -1
    if facts.build is not None and facts.build.arms is not None and abs(facts.build.arms) >= 1.0:
        votes += -1 if facts.build.arms > 0 else 1
    return "sumo" if votes > 0 else "conventional" if votes < 0 else ""


def differing_views(facts: DecisionFacts) -> tuple[Message, ...]:
    """The pairs of trade and study that concern this lifter, each a code whose text carries both with the source."""
    codes = ["differ.average", "differ.pull-length"]
    if facts.links is not None and facts.links.legs_over_back >= STANDS_OUT:
        codes.append("differ.back-work")
    if facts.build is not None and facts.build.arms is not None and facts.build.arms >= 1.0:
        codes.append("differ.long-arms")
    if facts.links is not None and facts.links.lockout_round_misses:
        codes.append("differ.round-lockout")
    if facts.links is not None and facts.links.misses and facts.links.leading(facts.main_style)[0] in ("hips", "back"):
        codes.append("differ.floor-miss")
    if facts.wishes_two_heavy_days or facts.health.back_soreness is not None:
        codes.append("differ.recovery")
    if facts.bar_and_grip.holds is False:
        codes.append("differ.grip-time")
    if facts.stances:
        codes.append("differ.hip-bend")
    private = HEALTH if facts.health.back_soreness is not None and not facts.wishes_two_heavy_days else frozenset()
    return tuple(Message(c, private=private if c == "differ.recovery" else frozenset()) for c in codes)


def back_line_values(facts: DecisionFacts) -> dict[str, Quantity]:
    """The load from which the back bends, for the line on flat or rounded."""
    bends = facts.back.bends_from_kg
    return {} if bends is None else {"load": kg(bends)}
