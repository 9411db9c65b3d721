"""The posterior of the weak link: recovery, honest chances, simulation-based calibration, a small honest version.

The full tables (2,000 lifters a cell) are printed by `make calibrate` and kept in docs/calibration-weak-points.md.
"""

from dataclasses import replace

import numpy as np
import pytest

from analysis.core.records.plain import CoreError
from analysis.core.records.terms import MISS_POSITIONS
from analysis.core.settings import DEFAULTS
from analysis.core.strength.demand_table import predicted_bests
from analysis.core.weak_link.explain import influences
from analysis.core.weak_link.gather import DayResult, sharpened
from analysis.core.weak_link.likelihood import evaluate
from analysis.core.weak_link.notes import SEEN_OWN, SEEN_PLAIN
from analysis.core.weak_link.posterior import even_bests, limiter_chances, pull_of, true_best
from analysis.core.weak_link.prior import UNKNOWNS, unknowns
from analysis.core.weak_link.problem import Evidence, Stuck, stack
from analysis.core.weak_link.sampler import active_kinds, sample
from analysis.core.weak_link.tabulated import KNEE_LATER, KNEE_START, kind_arrays, note_chances
from tests.core.logbook import day
from tests.simulated_lifters import KIND, Plan, stepped, tables
from tests.weak_point_cells import flatness, log_score, position_baseline, run_cell

RICH = Plan("conventional", ("conventional", "squat"), misses=6, seen=True)


@pytest.fixture(scope="module")
def table():
    return tables()[1]


def evidence(table, levels=None, stuck=(), opened=0.0):
    kinds = len(table.kinds)
    level, sd = np.full(kinds, np.nan), np.full(kinds, np.nan)
    for key, kg in (levels or {}).items():
        level[KIND[key]], sd[KIND[key]] = np.log(kg), 0.03
    grip = np.zeros(kinds)
    grip[0] = opened
    return Evidence(level, sd, tuple(stuck), grip, np.zeros(kinds))


def posterior(table, *found, kind=0):
    problem = stack([table] * len(found), found, DEFAULTS)
    return problem, sample(problem, kind)


@pytest.fixture(scope="module")
def rich():
    return run_cell(RICH, 96, size=0.3, reference=True, habits=True)


def test_the_fast_best_equals_the_mechanics(table):
    problem, _ = posterior(table, evidence(table))
    draws = np.random.default_rng(0).standard_normal((1, 60, UNKNOWNS))
    draws[..., 4:7] = draws[..., 10:13] = 0.0  # no change of shape over the pull, knees at their median
    kinds = tuple(range(len(table.kinds)))
    fast = np.exp(evaluate(problem, draws, kinds).log_best[0].min(-1) + problem.style_mean[0])
    asked = replace(table, kinds=tuple(more_of_the_knee(finely_pushed(kind)) for kind in table.kinds))
    slow = predicted_bests(asked, np.exp(unknowns(problem, draws).log_strength[0]))
    np.testing.assert_allclose(fast, slow, rtol=0.005)


def finely_pushed(kind):
    """The kind with 401 pushes between the least and the greatest: the demand is straight in the push."""
    push = np.linspace(kind.push[0], kind.push[-1], 401)
    share = ((push - push[0]) / (push[-1] - push[0]))[:, None]
    a, b = (x[:, :1] + (x[:, -1:] - x[:, :1]) * share for x in (kind.a, kind.b))
    return replace(kind, push=push, a=a, b=b)


def more_of_the_knee(kind):
    """The kind with the knee's demand raised over the net moment, and the mean that makes up for it."""
    early = np.clip(1.0 - kind.u / 0.35, 0.0, 1.0) if kind.style == "conventional" else 0.0 * kind.u
    factor = KNEE_LATER * (KNEE_START / KNEE_LATER) ** early if kind.lift == "deadlift" else np.ones_like(kind.u)
    a, b = kind.a.copy(), kind.b.copy()
    a[1], b[1] = a[1] * factor, b[1] * factor
    return replace(kind, a=a, b=b, style_mean=float(kind_arrays(kind, 0.08)["style_mean"]))


def test_bests_are_centred_on_what_the_mechanics_alone_would_give(table):
    problem, found = posterior(table, evidence(table))
    even = even_bests(problem, found, 0, 3000)[:, :, :3].min(-1) + problem.style_mean[0]
    strengths = unknowns(problem, np.random.default_rng(5).standard_normal((1, 3000, UNKNOWNS))).log_strength[0]
    held = np.concatenate([np.exp(strengths[:, :3]), np.full((3000, 1), 99.0)], axis=1)
    own = [KIND["conventional"], KIND["rounded"]]  # the pushes apart of a narrow stance hardly matter
    plain = predicted_bests(replace(table, kinds=tuple(table.kinds[k] for k in own)), held)
    lost = np.median(even[:, own], axis=0) - np.median(np.log(plain), axis=0)
    assert np.abs(lost).max() < 0.04 < problem.style_mean[0, own].min()


def test_note_chances_sum_to_one_and_follow_the_height(table):
    for kind in table.kinds[:5]:
        notes = note_chances(kind, 0.08)
        np.testing.assert_allclose(notes.sum(axis=1), 1.0, atol=1e-6)
        middle = notes @ np.arange(len(MISS_POSITIONS))
        assert (np.diff(middle) > -1e-9).all()


def test_what_was_seen_is_a_table_of_chances_given_link_and_position():
    np.testing.assert_allclose(SEEN_OWN.sum(-1), 1.0)
    np.testing.assert_allclose(SEEN_PLAIN.sum(-1), 1.0)
    floor = MISS_POSITIONS.index("floor")
    assert np.ptp(SEEN_OWN[:, floor, 0]) < 1e-12  # "never moved" means the floor and nothing more


def test_without_evidence_the_posterior_is_the_prior(table):
    _, found = posterior(table, evidence(table))
    mean = (found.weights[0, :, None] * found.draws[0]).sum(0)
    assert np.abs(mean).max() < 0.12
    assert found.effective_draws[0] > 1000


def test_misses_at_mid_shin_with_a_round_back_point_to_the_back_and_slow_ones_at_the_floor_to_the_hips(table):
    back = [Stuck(str(i), 0, 1, 2) for i in range(4)]
    hips = [Stuck(str(i), 0, 0, 1) for i in range(4)]
    _, found = posterior(
        table, evidence(table, {"conventional": 190}, back), evidence(table, {"conventional": 190}, hips)
    )
    chances = limiter_chances(found, 0)
    assert chances[0].argmax() == 2 and chances[1, 0] > chances[0, 0] + 0.2
    np.testing.assert_allclose(chances.sum(1), 1.0)


def test_grips_that_opened_point_to_the_grip(table):
    _, found = posterior(
        table, evidence(table, {"conventional": 190}), evidence(table, {"conventional": 190}, opened=4.0)
    )
    chances = limiter_chances(found, 0)[:, 3]
    assert chances[1] > 0.8 > chances[0] + 0.5


def test_a_strong_front_squat_takes_the_legs_away_as_limiter_of_sumo(table):
    weak = evidence(table, {"sumo": 190, "front-squat": 95})
    strong = evidence(table, {"sumo": 190, "front-squat": 150})
    _, found = posterior(table, weak, strong, kind=KIND["sumo"])
    chances = limiter_chances(found, KIND["sumo"])[:, 1]
    assert chances[0] > chances[1] + 0.08


def test_a_squad_read_together_equals_each_read_alone(table):
    logs = [evidence(table, {"conventional": kg}, [Stuck("a", 0, 0, 1)]) for kg in (150, 190, 230)]
    _, together = posterior(table, *logs)
    for place, log in enumerate(logs):
        _, alone = posterior(table, log)
        np.testing.assert_allclose(limiter_chances(together, 0)[place], limiter_chances(alone, 0)[0], atol=0.04)


def test_one_kind_is_one_unknown_so_levels_of_unlike_grips_do_not_pile_up(table):
    problem, _ = posterior(table, evidence(table))
    same = problem.error_cov[0, KIND["conventional"], KIND["straps"]]
    other = problem.error_cov[0, KIND["conventional"], KIND["block"]]
    assert same >= DEFAULTS["weak.model_sd"] ** 2 and other == 0.0


def test_five_percent_more_of_the_limiter_is_worth_more_than_of_anything_else(table):
    problem, found = posterior(
        table, evidence(table, {"conventional": 190}, [Stuck(str(i), 0, 1, 2) for i in range(5)])
    )
    gains = pull_of(problem, found, 0, 0).gains.mean(0)
    assert gains.argmax() == 2
    assert 1.02 < gains[2] < 1.08


def test_leaving_a_piece_out_by_weights_equals_never_having_had_it(table):
    stuck = (Stuck("a", 0, 0, 1), Stuck("b", 0, 1, 2))
    problem, found = posterior(table, evidence(table, {"conventional": 190, "squat": 150}, stuck))
    rows = {i.what: i.chances for i in influences(problem, found, 0, 0, stuck)}
    _, without_b = posterior(table, evidence(table, {"conventional": 190, "squat": 150}, stuck[:1]))
    _, without_squat = posterior(table, evidence(table, {"conventional": 190}, stuck))
    np.testing.assert_allclose(rows["stuck:b"], limiter_chances(without_b, 0)[0], atol=0.06)
    np.testing.assert_allclose(rows[f"level:{KIND['squat']}"], limiter_chances(without_squat, 0)[0], atol=0.06)


def test_the_true_best_of_a_kind_leans_on_the_levels_of_its_own_family(table):
    problem, found = posterior(table, evidence(table, {"conventional": 190}))
    even = even_bests(problem, found, 0)
    own = true_best(problem, even.min(-1), 0, KIND["conventional"])
    other = true_best(problem, even.min(-1), 0, KIND["sumo"])
    assert np.exp(np.median(own.mean)) == pytest.approx(190, rel=0.02)
    assert own.sd < 0.035 < other.sd


def test_only_kinds_that_evidence_speaks_of_are_worked_out(table):
    problem, _ = posterior(table, evidence(table, {"squat": 150}))
    assert active_kinds(problem, 0) == (0, KIND["squat"])


def test_a_demand_of_hip_or_back_that_depends_on_the_push_is_refused(table):
    kind = table.kinds[0]
    a = kind.a.copy()
    a[0, 0] *= 1.1
    with pytest.raises(CoreError, match="push"):
        stack([replace(table, kinds=(replace(kind, a=a),))], [evidence(replace(table, kinds=(kind,)))], DEFAULTS)


def test_makes_raise_a_level_misses_lower_it_and_a_day_counts_once():
    made = [DayResult(day(0), 0.02, True)]
    lost = [DayResult(day(0), 0.0, False)]
    assert sharpened(0.03, made, 0.03)[0] > 0.0 > sharpened(0.03, lost, 0.03)[0]
    same_day = sharpened(0.03, lost * 3, 0.03)
    three_days = sharpened(0.03, [DayResult(day(i), 0.0, False) for i in range(3)], 0.03)
    assert three_days[0] < same_day[0] and three_days[1] < same_day[1]
    assert sharpened(0.03, [], 0.03) == (0.0, 0.03)


def test_sharpening_equals_simulation():
    rng = np.random.default_rng(3)
    offset = 0.03 * rng.standard_normal(400_000)
    effect = 0.03 * rng.standard_normal(offset.shape)
    lift = 0.015 * rng.standard_normal((2, *offset.shape))
    kept = (offset + effect + lift[0] > -0.01) & (offset + effect + lift[1] < 0.02)
    mean, sd = sharpened(0.03, [DayResult(day(0), -0.01, True), DayResult(day(0), 0.02, False)], 0.03)
    assert mean == pytest.approx(offset[kept].mean(), abs=3e-4)
    assert sd == pytest.approx(offset[kept].std(), abs=3e-4)


def test_the_planted_link_is_recovered_and_the_stated_chance_is_honest(rich):
    assert abs(rich.stated - rich.right) < 3.0 * rich.standard_error
    assert rich.right > 0.7
    assert rich.right > rich.reference_right() - 0.02
    assert np.abs(rich.chances - rich.reference).mean() < 0.03


def test_the_estimate_beats_the_limiters_shares_and_counting_positions(rich):
    share = np.bincount(rich.limiter, minlength=4) / len(rich.limiter)
    prior = np.broadcast_to(share, rich.chances.shape)
    assert rich.log_score > log_score(prior, rich.limiter) + 0.2
    train = run_cell(RICH, 120, seed=2, size=0.05, habits=True)
    baseline = position_baseline(train, rich)
    assert rich.log_score > log_score(baseline, rich.limiter) + 0.1
    assert rich.brier < ((baseline - np.eye(4)[rich.limiter]) ** 2).sum(1).mean() - 0.08


def test_ranks_of_the_truth_are_flat_and_ranges_cover(rich):
    for column in range(4):
        assert flatness(rich.ranks[:, column], bins=8) < 2.9  # chi-square, 7 degrees of freedom: 1 in 200 above
    assert 0.72 < rich.covered.mean() < 0.88


def test_importance_weights_stay_spread_out(rich):
    assert np.quantile(rich.effective, 0.05) > 30


@pytest.mark.parametrize(
    "world",
    [{"world": stepped}, {"settings": {"weak.sharpness": 10.0}}, {"day_sd": 0.03}, {"wrong_seen": 0.3}],
    ids=["stepped back", "blunt positions", "day effect", "signs blind in 30 %"],
)
def test_truths_the_model_does_not_know_do_not_make_it_boast(world):
    cell = run_cell(RICH, 40, seed=3, size=0.2, **world)
    assert cell.stated - cell.right < 0.10 + 2.0 * cell.standard_error


def test_blind_positions_and_signs_lower_the_stated_chance():
    clear = run_cell(RICH, 40, seed=3, size=0.2)
    blind = run_cell(RICH, 40, seed=3, size=0.2, random_positions=True, wrong_seen=0.6)
    assert blind.stated < clear.stated - 0.02
