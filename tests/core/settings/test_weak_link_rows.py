"""Every number of the weak link, at its boundary or along its slope."""

from datetime import timedelta
from math import exp, log
from types import SimpleNamespace

import numpy as np
import pytest

from analysis.core.estimates.misses import MissReading, read_misses
from analysis.core.records.demands import STRENGTHS
from analysis.core.records.weak_link import LinkChance
from analysis.core.weak_link.estimate import estimate
from analysis.core.weak_link.kinds import prepare_log
from analysis.core.weak_link.naming import clear, enough, why_not_enough
from analysis.core.weak_link.posterior import told_chances
from analysis.core.weak_link.prior import UNKNOWNS, unknowns
from analysis.core.weak_link.tests_offered import no_test_reason, offered_tests
from tests.core.logbook import day, missed, pull
from tests.core.settings.rows import NUDGE, Edge, Slope, check_edge, check_slope
from tests.core.weak_link_log import TODAY, base, lifter, misses

PERSON = lifter([*base(), *misses(4, 195.0, "below-knee"), pull(TODAY - 6, 185.0, 1, 9.0)])
STYLE = "conventional"


def estimated(settings):
    """The estimate of a lifter with four misses, from few draws."""
    log_of = prepare_log(PERSON, day(TODAY), settings)
    readings = read_misses(PERSON, log_of.levels, day(TODAY), settings)
    return estimate(PERSON, log_of, readings, STYLE, day(TODAY), settings, size=0.05)


def middle(name):
    """An unknown at the middle of its prior."""
    return lambda s: float(np.ravel(getattr(unknowns(estimated(s).problem, np.zeros((1, 1, UNKNOWNS))), name))[0])


def level_sd(settings):
    found = estimated(settings)
    return float(found.found.evidence.level_sd[found.main])


def error(settings, other):
    cov = estimated(settings).problem.error_cov[0]
    return float(cov[0, 1] if other else cov[0, 0])


def note_blur(settings):
    """How sharply the note just below the knee ends: the greatest chance of that note at any height."""
    found = estimated(settings)
    return float(found.problem.notes[0, found.main].max(axis=0)[2])


def hips_with_legs(settings):
    root = estimated(settings).problem.prior_root[0]
    return float((root @ root.T)[0, 1])


def heaviest_test(settings):
    found = estimated(settings)
    return max(t.high_kg for t in offered_tests(found, day(TODAY), settings))


def excess(settings):
    rows = [missed(TODAY, 150.0)]
    return read_misses(lifter(rows), {rows[0].key: 100.0}, day(TODAY), settings)[0].excess


SLOPES = (
    Slope("miss.too_heavy", 1.02, 1.10, excess, default=0.05),
    Slope("weak.model_sd", 0.03, 0.08, lambda s: error(s, False)),
    Slope("weak.tag_sd", 0.01, 0.05, lambda s: error(s, False)),
    Slope("weak.sharpness", 20.0, 50.0, middle("sharpness"), default=33.0),
    Slope("weak.day_sd", 0.01, 0.06, level_sd),
    Slope("weak.blur", 0.04, 0.12, note_blur, rises=False),
    Slope("weak.wrong_note", 0.05, 0.2, middle("wrong_note"), default=0.10),
    Slope("weak.seen_strength", 0.5, 0.9, middle("seen_strength"), default=0.70),
    Slope("weak.correlation", 0.4, 0.8, hips_with_legs),
    Slope("weak.test_share", 0.75, None, heaviest_test),
)


def noted(count):
    """So many counted misses."""
    return [MissReading(missed(TODAY - 14 * i, 100.0), 1.0, "", "") for i in range(int(count))]


NOTHING = SimpleNamespace(levels={})
EVEN = np.array([0.2, 0.1, 0.65, 0.05])


def few(count, settings):
    found = SimpleNamespace(found=SimpleNamespace(heavy_made=()))
    return enough(NOTHING, noted(count), found, STYLE, settings)


def hardly_raised(shift, settings):
    """Whether the back is left unnamed when the log has raised its log odds by so much."""
    before = float(told_chances(EVEN)[STRENGTHS.index("back")])
    chance = 1.0 / (1.0 + exp(-log(before / (1.0 - before)) - shift * NUDGE))
    chances = tuple(LinkChance(k, chance if k == "back" else (1 - chance) / 3, k) for k in STRENGTHS)
    main = SimpleNamespace(style=STYLE, rests_on_sets=5, chances=chances, chance=lambda link: chance)
    found = SimpleNamespace(found=SimpleNamespace(heavy_made=()), posterior=SimpleNamespace(before=EVEN[None]))
    return bool(why_not_enough(NOTHING, noted(4), found, [main], (), settings, lambda link: True))


def near_meet(days, settings):
    person = lifter([], next_meet=day(TODAY) + timedelta(days=int(days)))
    return no_test_reason(person, day(TODAY), settings) != ""


EDGES = (
    Edge("miss.least", 3, 1, few, False, True, True),
    Edge("weak.clear_chance", 0.70, 0.01, lambda x, s: clear(x, "back", s, lambda _: False), False, True, True),
    Edge("weak.keep_chance", 0.55, 0.01, lambda x, s: clear(x, "back", s, lambda _: True), False, True, True),
    Edge("weak.least_shift", 0.4, 0.05, hardly_raised, True, False, False),
    Edge("weak.test_meet_days", 10, 1, near_meet, True, True, False),
)


@pytest.mark.parametrize("row", EDGES, ids=str)
def test_a_threshold_is_where_it_is_said_to_be(row):
    check_edge(row)


@pytest.mark.parametrize("row", SLOPES, ids=str)
def test_raising_a_number_moves_its_outcome(row):
    check_slope(row)
