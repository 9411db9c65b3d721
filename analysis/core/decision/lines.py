"""The closed lines of the answer: how wide, flat or rounded, which bar and grip, train the link."""

from __future__ import annotations

from analysis.core.decision.reasons import back_line_values
from analysis.core.records.decision import DecisionFacts, Line, Stance
from analysis.core.records.messages import HEALTH, Message, Quantity, Unit, Value, chance, kg
from analysis.core.settings import DEFAULTS, Settings
from analysis.core.styles.belief import LIKELY

NAMED_MISSES, NAMED_SLOW = 3, 2  # misses that name a link in a heading; or two misses and two noted slow lifts


def link_is_named(facts: DecisionFacts) -> bool:
    """Whether the log names the main style's link at "likely" or surer, from enough counted misses."""
    links = facts.links
    if links is None or links.leading(facts.main_style)[1] < LIKELY:
        return False
    enough = links.misses >= NAMED_MISSES or (links.misses >= 2 and links.slow_lifts >= NAMED_SLOW)
    return enough and links.named.get(facts.main_style, "") == links.leading(facts.main_style)[0]


def starts_flatter(facts: DecisionFacts, settings: Settings = DEFAULTS) -> bool:
    """Whether a flatter start comes first: an adult without a back note whose heavy sets are mostly seen round."""
    back = facts.back
    adult = facts.standing == "trained" and (facts.age is None or facts.age >= 18)
    seen = back.seen >= settings["style.round_seen"] and back.round >= settings["style.round_share"] * back.seen
    return adult and not facts.health.back_note and seen


def all_lines(facts: DecisionFacts, settings: Settings = DEFAULTS) -> tuple[Line, ...]:
    """Every line with its state, ground and action; none is ever absent."""
    return (how_wide(facts, settings), flat_or_rounded(facts, settings), bar_and_grip(facts), train_link(facts))


def narrower(facts: DecisionFacts, settings: Settings = DEFAULTS) -> float | None:
    """The widest stance (m) to try after a pinch: narrower than every stance that pinched."""
    pinching = [s.width_m for s in facts.stances if s.pinches]
    return min(pinching) - settings["style.narrower"] if pinching else None


def how_wide(facts: DecisionFacts, settings: Settings = DEFAULTS) -> Line:
    """The stance among those tried without pinch that asks least of own strength; never a headline."""
    fit = [s for s in facts.stances if s.tried and not s.pinches]
    known = [s for s in fit if s.demand is not None]
    if facts.health.pinch and (limit := narrower(facts, settings)) is not None:
        values = {"width": Quantity(limit, Unit.METRE, private=HEALTH)}
        here, why = Message("wide.pinch", private=HEALTH), Message("wide.pinch-ground", private=HEALTH)
        return Line("how-wide", here, why, Message("wide.narrower", values, private=HEALTH))
    if facts.stance_m is None and not fit:
        return Line("how-wide", Message("wide.unknown"), Message("wide.unknown-ground"), Message("wide.measure"))
    if not known or facts.stance_m is None:
        width = facts.stance_m if facts.stance_m is not None else fit[0].width_m
        now = Message("wide.now", {"width": Quantity(width, Unit.METRE)})
        return Line("how-wide", now, Message("wide.untried"), Message("wide.walk-three"))
    best = min(known, key=_demand)
    now = Message("wide.now", {"width": Quantity(facts.stance_m, Unit.METRE)})
    values = {"width": Quantity(best.width_m, Unit.METRE), "demand": Quantity(_demand(best), Unit.SHARE)}
    same = abs(best.width_m - facts.stance_m) < 0.03  # m: under what a tape on a gym floor shows
    return Line("how-wide", now, Message("wide.least", values), Message("wide.keep" if same else "wide.try", values))


def _demand(stance: Stance) -> float:
    assert stance.demand is not None
    return stance.demand


def flat_or_rounded(facts: DecisionFacts, settings: Settings = DEFAULTS) -> Line:
    """Bend against load, and the flat ceiling against rounded bests; nothing is advised on a back note or to minors."""
    back, key = facts.back, "flat-or-rounded"
    if facts.health.back_note:
        parts = ("flat.back-note", "flat.back-note-ground", "flat.licensed")
        return Line(key, *(Message(code, private=HEALTH) for code in parts))
    if back.seen < settings["style.round_seen"]:
        return Line(key, Message("flat.unknown", {"seen": back.seen}), Message("flat.per-load"), Message("flat.film"))
    counts = {"seen": back.seen, "round": back.round}
    if back.round == 0:
        return Line(key, Message("flat.flat", counts), Message("flat.per-load"), Message("flat.keep"))
    state = Message("flat.bends-from", back_line_values(facts)) if back.bends_from_kg else Message("flat.round", counts)
    ground = Message("flat.per-load")
    if back.flat_best_kg and back.round_best_kg:
        ground = Message("flat.ceiling", {"flat": kg(back.flat_best_kg), "round": kg(back.round_best_kg)})
    flatter = starts_flatter(facts, settings)
    return Line(key, state, ground, Message("flat.start-flatter" if flatter else "flat.film"))


def bar_and_grip(facts: DecisionFacts) -> Line:
    """Whether the grip holds, what a flexible bar would add, and if the rules allow one."""
    tools, key = facts.bar_and_grip, "bar-and-grip"
    if tools.holds is None:
        return Line(key, Message("grip.unknown"), Message("grip.unknown-ground"), Message("grip.hold-top-set"))
    state = Message("grip.holds" if tools.holds else "grip.opens", {"grip": tools.grip})
    if tools.bar_gain_kg is None:
        ground = Message("bar.unknown")
    else:
        gain, low, high = tools.bar_gain_kg
        ground = Message("bar.gain", {"gain": kg(gain, low, high)})
    if not tools.holds:
        return Line(key, state, ground, Message("grip.train"))
    if tools.flexible_allowed is None:
        return Line(key, state, ground, Message("bar.ask-rules"))
    return Line(key, state, ground, Message("bar.try" if tools.flexible_allowed else "bar.stay"))


def train_link(facts: DecisionFacts) -> Line:
    """The link to train; said with the count of misses, or what is missing."""
    key, links = "train-link", facts.links
    if links is None or not (links.misses or links.slow_lifts):
        return Line(key, Message("link.unknown"), Message("link.unknown-ground"), Message("link.note-slow"))
    link, value = links.leading(facts.main_style)
    values: dict[str, Value] = {"link": link, "misses": links.misses, "chance": chance(min(value, 0.7))}
    if link_is_named(facts):
        return Line(key, Message("link.likely", values), Message("link.count", values), Message("link.train", values))
    state = "link.first-suspect" if 1 <= links.misses < NAMED_MISSES else "link.open"
    return Line(key, Message(state, values), Message("link.count", values), Message("link.test"))
