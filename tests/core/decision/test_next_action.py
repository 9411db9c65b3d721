"""One ranking of what to do next: gain per cost, gates, and the outcomes of a test said before it."""

from dataclasses import replace
from datetime import timedelta

import pytest

from analysis.core.decision.next_action import outcomes_of, ranked
from analysis.core.records.decision import ActionKind, Candidate, Forecast, HealthFacts
from analysis.core.records.messages import HEALTH, Message, Private, Quantity, Unit, kg, visible
from analysis.core.settings import layered
from tests.core.decision.facts import DAY, facts

SQUAT = Candidate(ActionKind.TEST, "front-squat", 0.098, heavy=True)
FILM = Candidate(ActionKind.FILM, "film", 0.050)
ASK = Candidate(ActionKind.ASK, "ask", 0.013)
BLOCK = Candidate(ActionKind.TEST, "block", -0.002, heavy=True)
ALL = facts(candidates=(BLOCK, ASK, SQUAT, FILM))


def order(case, settings=None):
    return [a.code for a in (ranked(case, settings) if settings else ranked(case))]


def test_most_gain_per_cost_first_and_what_adds_nothing_is_not_named():
    assert order(ALL) == ["film", "front-squat", "keep-going"]
    assert order(ALL, layered({"next.film_sets": 2})) == ["front-squat", "film", "keep-going"]
    film, squat, keep = ranked(ALL)
    assert film.gain_per_cost == pytest.approx(0.03 * 0.050 / (0.3 * 0.001))
    assert squat.gain_per_cost == pytest.approx(0.03 * 0.098 / 0.001) and keep.kind == ActionKind.KEEP_GOING


@pytest.mark.parametrize(
    "change",
    [
        {"health": HealthFacts(pain=True)},
        {"age": 17.0},
        {"standing": "beginner"},
        {"standing": "returning"},
        {"important_meet": DAY + timedelta(days=10)},
        {"hours_since_heavy": 71.0},
    ],
)
def test_gates_bar_a_test_and_leave_the_film(change):
    assert order(replace(ALL, **change)) == ["film", "keep-going"]


def test_limits_of_the_gates():
    assert "front-squat" in order(replace(ALL, hours_since_heavy=72.0, important_meet=DAY + timedelta(days=11)))
    assert order(replace(ALL, candidates=(replace(SQUAT, blocked="film-gate"),))) == ["keep-going"]


def test_outcomes_are_three_with_the_middle_open():
    back = (0.2, 0.3, 0.5, 0.7, 0.8)
    forecast = Forecast(
        (90.0, 95.0, 100.0, 105.0, 110.0), (1, 2, 4, 2, 1), {"back": back, "hips": (0.8, 0.7, 0.5, 0.3, 0.2)}
    )
    heavy, middle, light = outcomes_of(forecast)
    assert (heavy.link, middle.link, light.link) == ("back", "", "hips")
    assert (heavy.low_kg, heavy.high_kg) == (105.0, None) and (light.low_kg, light.high_kg) == (None, 100.0)
    assert [round(o.chance, 3) for o in (heavy, middle, light)] == [0.3, 0.4, 0.3]
    assert heavy.after == pytest.approx((2 * 0.7 + 0.8) / 3)


def test_a_message_needs_what_its_code_and_values_need():
    plain, hurt = Message("a", {"load": kg(100)}), Message("b", private=HEALTH)
    mass = Message("c", {"mass": Quantity(80, Unit.KG, private=frozenset((Private.MASS,)))}, private=HEALTH)
    assert mass.needs == frozenset(Private)
    assert visible((plain, hurt, mass), frozenset()) == (plain,)
    assert visible((plain, hurt, mass), HEALTH) == (plain, hurt)
    assert visible((plain, hurt, mass), frozenset(Private)) == (plain, hurt, mass)
