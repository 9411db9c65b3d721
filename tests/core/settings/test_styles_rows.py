"""Every number of the decision about style and of the next action, at its boundary or along its slope."""

from dataclasses import replace
from datetime import timedelta

import pytest

from analysis.core.decision.answer import answer
from analysis.core.decision.lines import flat_or_rounded, narrower, starts_flatter
from analysis.core.decision.next_action import cost, is_barred, ranked, worth
from analysis.core.decision.reasons import Reasons, has_left, reasons_of
from analysis.core.decision.states import is_offered, keeps_old_style
from analysis.core.records.decision import (
    ActionKind,
    BackShape,
    BarAndGrip,
    BuildScore,
    Candidate,
    HealthFacts,
    Lean,
    Stance,
    Word,
)
from analysis.core.settings import DEFAULTS
from analysis.core.styles.belief import StyleWeights, belief, lean_of, trial_value
from tests.core.decision.facts import DAY, PLAIN, facts, links
from tests.core.settings.rows import Edge, Slope, check_edge, check_slope

NO_NEED = Reasons((), (), 0.0, 0.0)
WORTH = Lean("sumo", Word.LEANING, 0.9, 0.5, 0.9, 0.05, 0.02, 0.05)
HOUSE = {"house.sumo_first": 1.0}


def offered(settings, needs=0.0, **lean):
    return is_offered(PLAIN, replace(WORTH, **lean), replace(NO_NEED, needs=needs), settings)


def said(settings, **changes):
    """Codes of the reasons for the other style."""
    return [m.code for m in reasons_of(facts(**changes), settings).towards]


def sore(points, settings):
    return said(settings, health=HealthFacts(back_soreness=points))


def stiff_enough(best_kg, settings):
    return said(settings, best_kg=best_kg, bar_and_grip=BarAndGrip(flexible_at_meet=True))


def young_in_style(years, settings):
    return said(settings, years={"conventional": years})


def house(share, settings):
    """With the switch at this value and little conventional behind the lifter."""
    return "reason.house-rule" in said(settings.with_values({"house.sumo_first": share}), years={"conventional": 1.0})


def flatter(seen, round_share, settings):
    return starts_flatter(facts(back=BackShape(int(seen), round(seen * round_share))), settings)


def said_flat(seen, settings):
    return flat_or_rounded(facts(back=BackShape(int(seen), 0)), settings).state.code


def keeps(points, settings):
    return keeps_old_style(facts(health=HealthFacts(back_soreness=points)), settings)


def named_actions(gain, settings):
    candidate = Candidate(ActionKind.TEST, "squat", trial_value=gain)
    return [a.code for a in ranked(facts(candidates=(candidate,)), settings)]


def tired(hours, settings):
    test = Candidate(ActionKind.TEST, "squat", heavy=True)
    return is_barred(test, facts(hours_since_heavy=hours), settings)


def near_meet(days, settings):
    meet = DAY + timedelta(days=int(days))
    return is_barred(Candidate(ActionKind.TEST, "squat"), facts(important_meet=meet), settings)


BOTH, ALONE = ["squat", "keep-going"], ["keep-going"]
FLEXIBLE, RULE = ["reason.flexible-bar"], ["reason.house-rule"]
EDGES = (
    Edge("style.trial_least", 0.01, 0.005, lambda x, s: offered(s, value=x), False, False, True),
    Edge("style.offer_chance", 0.60, 0.01, lambda x, s: offered(s, chance=x), False, True, True),
    Edge("style.reason_least", 0.02, 0.005, lambda x, s: offered(s, needs=x, chance=0.5), False, True, True),
    Edge("style.soreness_from", 5, 1, sore, [], ["reason.sore-back"], ["reason.sore-back"]),
    Edge("style.soreness_from", 5, 1, keeps, True, False, False),
    Edge("style.bar_from", 180, 1, stiff_enough, [], FLEXIBLE, FLEXIBLE),
    Edge(
        "style.left_sessions",
        8,
        1,
        lambda x, s: has_left(facts(left_after_sessions={"sumo": int(x)}), s),
        False,
        True,
        True,
    ),
    Edge("style.house_years", 2, 0.5, young_in_style, RULE, [], [], HOUSE),
    Edge("style.round_share", 0.5, 0.1, lambda x, s: flatter(10, x, s), False, True, True),
    Edge("style.round_seen", 3, 1, lambda x, s: flatter(x, 1.0, s), False, True, True),
    Edge("style.round_seen", 3, 1, said_flat, "flat.unknown", "flat.flat", "flat.flat"),
    Edge("next.least", 0.0005, 0.0001, named_actions, ALONE, BOTH, BOTH),
    Edge("next.rest_hours", 72, 24, tired, True, False, False),
    Edge("next.meet_days", 10, 1, near_meet, True, True, False),
)


def mean(settings):
    return belief(links(1.0), BuildScore(1.0, 0.5), (), StyleWeights.of(settings))[0]


def sd(settings):
    return belief(links(1.0), BuildScore(1.0, 0.5), (), StyleWeights.of(settings))[1]


def surest(settings):
    """The chance shown of a lifter whose links speak as loudly as they can."""
    return lean_of("sumo", "conventional", links(4.0, 0.9), None, settings=settings).chance


def needs(settings, **changes):
    return reasons_of(facts(**changes), settings).needs


def weeks_of_training(settings):
    return answer(PLAIN, settings).heading.values["weeks"].value


SORE, STRAPS = HealthFacts(back_soreness=6.0), BarAndGrip(holds=False)
FLEXES = BarAndGrip(flexible_at_meet=True)
PINCH = facts(stances=(Stance(0.85, pinches=True),))
SLOPES = (
    Slope("style.spread", 0.06, 0.10, mean, default=0.08 * 0.45),
    Slope("style.legs", 0.2, 0.4, mean, default=0.08 * 0.45),
    Slope("style.legs_sd", 0.1, 0.3, sd),
    Slope("style.build", 0.05, 0.25, mean, default=0.08 * 0.45),
    Slope("style.build_sd", 0.05, 0.25, sd),
    Slope("style.cap", 0.65, 0.75, surest, default=0.70),
    Slope("style.trial_error", 0.02, 0.04, lambda s: float(trial_value(0.0, 0.08, s)), rises=False),
    Slope("style.trial_cost", 0.002, 0.01, lambda s: float(trial_value(0.0, 0.08, s)), rises=False),
    Slope("style.trial_cost", 0.002, 0.01, lambda s: cost(ActionKind.TRIAL, s), default=0.005),
    Slope("style.soreness_worth", 0.01, 0.03, lambda s: needs(s, health=SORE), default=0.02),
    Slope("style.two_days_worth", 0.01, 0.03, lambda s: needs(s, wishes_two_heavy_days=True), default=0.02),
    Slope("style.bar_worth", 0.005, 0.02, lambda s: needs(s, best_kg=200.0, bar_and_grip=FLEXES), default=0.01),
    Slope("style.grip_worth", 0.005, 0.02, lambda s: needs(s, bar_and_grip=STRAPS), default=0.01),
    Slope(
        "style.left_worth",
        0.01,
        0.03,
        lambda s: reasons_of(facts(left_after_sessions={"sumo": 9}), s).worth,
        rises=False,
        default=-0.02,
    ),
    Slope("style.train_weeks", 6, 10, weeks_of_training, default=8),
    Slope("style.narrower", 0.03, 0.08, lambda s: narrower(PINCH, s), rises=False, default=0.80),
    Slope("next.link_worth", 0.02, 0.05, lambda s: worth(Candidate(ActionKind.TEST, "x", 0.1), s), default=0.003),
    Slope("next.set_cost", 0.0005, 0.002, lambda s: cost(ActionKind.TEST, s), default=0.001),
    Slope("next.film_sets", 0.2, 0.5, lambda s: cost(ActionKind.FILM, s), default=0.0003),
    Slope("next.question_sets", 0.05, 0.2, lambda s: cost(ActionKind.ASK, s), default=0.0001),
)


@pytest.mark.parametrize("row", EDGES, ids=str)
def test_a_threshold_is_where_it_is_said_to_be(row):
    check_edge(row)


@pytest.mark.parametrize("row", SLOPES, ids=str)
def test_raising_a_number_moves_its_outcome(row):
    check_slope(row)


@pytest.mark.parametrize(("value", "speaks"), [(0.0, False), (1.0, True)])
def test_the_house_rule_speaks_only_when_switched_on(value, speaks):
    assert house(value, DEFAULTS) is speaks


OWN_TESTS = ("house.sumo_first",)
