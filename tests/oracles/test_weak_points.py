"""The same posterior from an independent sampler, emcee (Foreman-Mackey et al. 2013), and a second likelihood.

The likelihood is written out again for one draw at a time from the demand table, with SciPy's normal distribution
and explicit loops, and shares no code with the estimate but its constants; then emcee samples the fast one.
"""

import emcee
import numpy as np
import pytest
from scipy import stats

from analysis.core.settings import DEFAULTS
from analysis.core.weak_link import likelihood as own
from analysis.core.weak_link import prior as p
from analysis.core.weak_link.likelihood import evaluate
from analysis.core.weak_link.posterior import limiter_chances
from analysis.core.weak_link.problem import Evidence, Stuck, note_chances, stack
from analysis.core.weak_link.sampler import active_kinds, sample
from tests.simulated_lifters import KIND, tables

STUCK = (Stuck("a", 0, 0, 1), Stuck("b", 0, 1, 2), Stuck("c", 0, 2, 5), Stuck("d", 0, 0, 0))
WALKERS = 600
LEVELS = {"conventional": (190.0, 0.03), "squat": (150.0, 0.04), "block": (205.0, 0.04)}


def log_odds(centre, shift):
    odds = centre / (1 - centre) * np.exp(shift)
    return odds / (1 + odds)


def allowed_loads(kind, strengths, slopes):
    """Loads that hips, legs and back allow at every height, by the definition: max over push of the weakest link."""
    lever = kind.u - p.SLOPE_CENTRE
    factor = [1 + slopes[0] * lever, np.exp(slopes[1] * lever), 1 + slopes[2] * lever]
    hips = (strengths[0] * factor[0] * kind.capacity[0] - kind.b[0, 0]) / kind.a[0, 0]
    back = (strengths[2] * factor[2] * kind.capacity[3] - kind.b[3, 0]) / kind.a[3, 0]
    legs = np.empty(len(kind.z))
    for h in range(len(kind.z)):
        by_push = []
        for push in range(len(kind.push)):
            loads = []
            for link in (1, 2):
                force = strengths[1] * factor[1][h] * kind.capacity[link, h] - kind.b[link, push, h]
                a = kind.a[link, push, h]
                loads.append(force / a if a > 1e-6 else (1e4 if force > 0 else 0.0))
            by_push.append(min(loads))
        legs[h] = min(max(by_push), 1e4)
    return hips, legs, back


def log_posterior(x, table, cov, notes):
    strengths = np.exp(
        table.prior.log_mean + table.prior.log_sd * (np.linalg.cholesky(table.prior.correlation) @ x[:4])
    )
    slopes = p.SLOPE_SD * x[4:7]
    kappa = DEFAULTS["weak.sharpness"] * np.exp(p.SHARPNESS_SD * x[7])
    wrong = log_odds(DEFAULTS["weak.wrong_note"], p.WRONG_NOTE_SD * x[8])
    sure = log_odds(DEFAULTS["weak.seen_strength"], p.SEEN_SD * x[9])
    gaps, total = [], -0.5 * float(x @ x)
    for key, (kg, _) in LEVELS.items():
        kind = table.kinds[KIND[key]]
        loads = allowed_loads(kind, strengths, slopes)
        best = min(min(map(np.min, loads)) * np.exp(kind.style_mean), kind.grip_kg * strengths[3])
        gaps.append(np.log(kg) - np.log(best))
        if key == "conventional":
            pull = loads
    total += stats.multivariate_normal.logpdf(gaps, np.zeros(len(gaps)), cov)
    strength = min(map(np.min, pull))
    weight = np.exp(kappa * (np.minimum(strength / np.array(pull), 1.05) - 1.0))
    joint = weight @ notes / (weight @ notes).sum()
    for one in STUCK:
        here = (1 - wrong) * joint[:, one.position] + wrong / 6 * joint.sum(axis=1)
        if one.sign == 5:
            total += np.log(here.sum())
            continue
        pointing = sum(here[g] * own.SEEN_OWN[g, one.position, one.sign] for g in range(3))
        total += np.log(sure * pointing + (1 - sure) * own.SEEN_PLAIN[one.position, one.sign] * here.sum())
    return total


@pytest.fixture(scope="module")
def case():
    table = tables()[1]
    kinds = len(table.kinds)
    level, sd = np.full(kinds, np.nan), np.full(kinds, np.nan)
    for key, (kg, width) in LEVELS.items():
        level[KIND[key]], sd[KIND[key]] = np.log(kg), width
    problem = stack([table], [Evidence(level, sd, STUCK, np.zeros(kinds), np.zeros(kinds))], DEFAULTS)
    return table, problem, sample(problem, 0, size=4.0)


def test_the_likelihood_written_out_plainly_is_the_same(case):
    table, problem, found = case
    places = [KIND[key] for key in LEVELS]
    cov = problem.error_cov[0][np.ix_(places, places)] + np.diag([w**2 for _, w in LEVELS.values()])
    notes = note_chances(table.kinds[0], DEFAULTS["weak.blur"])
    draws = found.draws[:, np.random.default_rng(1).choice(found.weights.shape[1], 120, p=found.weights[0])]
    plain = np.array([log_posterior(x, table, cov, notes) for x in draws[0]])
    fast = evaluate(problem, draws, active_kinds(problem, 0)).log_likelihood[0] - 0.5 * (draws[0] ** 2).sum(-1)
    gap = plain - fast
    assert np.ptp(plain) > 3.0
    assert np.abs(gap - gap.mean()).max() < 0.02


def test_emcee_gives_the_same_chances_and_strengths(case):
    _, problem, found = case
    kinds = active_kinds(problem, 0)

    def log_density(x):
        return evaluate(problem, x[None], kinds).log_likelihood[0] - 0.5 * (x**2).sum(-1)

    # many walkers, because few of them change between "hips" and "grip" too seldom to settle the shares
    chosen = np.random.default_rng(1).choice(found.weights.shape[1], WALKERS, p=found.weights[0])
    start = found.draws[0, chosen] + 0.01 * np.random.default_rng(2).standard_normal((WALKERS, 10))
    moves = [(emcee.moves.KDEMove(bw_method=0.6), 0.5), (emcee.moves.StretchMove(), 0.5)]
    np.random.seed(4)
    sampler = emcee.EnsembleSampler(WALKERS, 10, log_density, moves=moves, vectorize=True)
    sampler.run_mcmc(start, 1700)
    chain = sampler.get_chain(discard=200, flat=True)
    mean = (found.weights[0, :, None] * found.draws[0]).sum(0)
    spread = np.sqrt((found.weights[0, :, None] * (found.draws[0] - mean) ** 2).sum(0))
    np.testing.assert_allclose(chain.mean(0), mean, atol=0.07)
    np.testing.assert_allclose(chain.std(0), spread, rtol=0.06)
    best = evaluate(problem, chain[None, ::20], kinds).log_best[0, :, 0]
    shares = np.bincount(best.argmin(-1), minlength=4) / len(best)
    assert shares == pytest.approx(limiter_chances(found, 0)[0], abs=0.03)
