"""The same posterior from an independent sampler, emcee (Foreman-Mackey et al. 2013), and a second likelihood.

The likelihood is written out again for one draw at a time from the demand table, with SciPy's normal distribution
and explicit loops, and shares no code with the estimate but its constants; then emcee samples the fast one.
"""

import emcee
import numpy as np
import pytest
from scipy import special, stats

from analysis.core.settings import DEFAULTS
from analysis.core.weak_link import likelihood as own
from analysis.core.weak_link import notes as n
from analysis.core.weak_link import prior as p
from analysis.core.weak_link import tabulated as t
from analysis.core.weak_link.likelihood import evaluate
from analysis.core.weak_link.posterior import limiter_chances
from analysis.core.weak_link.problem import Evidence, Stuck, stack
from analysis.core.weak_link.sampler import active_kinds, sample
from tests.simulated_lifters import KIND, tables

STUCK = (
    Stuck("a", 0, 0, 1),
    Stuck("b", 0, 1, 2, share=0.85, fatigue=0.3),
    Stuck("c", 0, 2, 5, excess=0.025),
    Stuck("d", 0, 0, 0),
    Stuck("e", 0, 6, 2),
)
WALKERS = 600
LEVELS = {"conventional": (190.0, 0.03), "squat": (150.0, 0.04), "block": (205.0, 0.04)}


def log_odds(centre, shift):
    odds = centre / (1 - centre) * np.exp(shift)
    return odds / (1 + odds)


def knee_factor(kind, x):
    """The knee's demand over its net moment at every height; x is the conventional style's unknown."""
    if kind.lift != "deadlift":
        return np.ones(len(kind.z))
    early = np.maximum(1 - np.maximum(kind.u, 0) / t.KNEE_FADE, 0)
    middle = np.log(t.KNEE_LATER) + early * (np.log(t.KNEE_START) - np.log(t.KNEE_LATER))
    return np.exp(middle + x * (t.KNEE_LATER_SD + early * (t.KNEE_START_SD - t.KNEE_LATER_SD)))


def allowed_loads(kind, strengths, x):
    """Loads that hips, legs and back allow at every height, by the definition: max over push of the weakest link."""
    lever = kind.u - t.SLOPE_CENTRE
    factor = 1 + t.SLOPE_SD * np.outer(x[4:7], lever)
    band = t.note_chances(kind, DEFAULTS["weak.blur"])[:, 0]
    rise = 1 + (np.exp(t.FLOOR_SD * x[10]) - 1) * (1 - band) * (kind.lift == "deadlift")
    knee = knee_factor(kind, x[11])
    hips = (strengths[0] * factor[0] * kind.capacity[0] - kind.b[0, 0]) / kind.a[0, 0]
    back = (strengths[2] * factor[2] * kind.capacity[3] - kind.b[3, 0]) / kind.a[3, 0]
    pushes = np.linspace(kind.push[0], kind.push[-1], 2001)
    legs = np.empty(len(kind.z))
    for h in range(len(kind.z)):
        loads = []
        for link, more in ((1, knee[h]), (2, 1.0)):
            a, b = (np.interp(pushes, kind.push, part[link, :, h]) * more for part in (kind.a, kind.b))
            force = strengths[1] * factor[1][h] * kind.capacity[link, h] - b
            loads.append(np.where(a > 1e-6, force / np.maximum(a, 1e-6), np.where(force > 0, 1e4, 0.0)))
        legs[h] = min(np.minimum(*loads).max(), 1e4)
    return [np.maximum(load, 1.0) * rise for load in (hips, legs, back)]


def stop_chances(kind, loads, x, fatigue=0.0, excess=0.0):
    """Chance of each place by each link: a sum over heights, each standing for its metres."""
    kappa = DEFAULTS["weak.sharpness"] * np.exp(p.SHARPNESS_SD * x[7])
    tired = fatigue * p.FATIGUE * np.exp(p.FATIGUE_SD * x[13])
    loads = [load * (1 - part * tired) for load, part in zip(loads, own.TIRED, strict=True)]
    best = min(map(np.min, loads)) * np.exp(excess)
    weight = np.exp(kappa * (best / np.array(loads) - 1)) * np.gradient(kind.z)
    joint = weight @ t.note_chances(kind, DEFAULTS["weak.blur"])
    return joint / joint.sum()


def log_mixture(notes, wrong, sure):
    """Log-likelihood of rows (joint, place, sign, share, usual places): a mixture over what is a habit."""
    sign = place = alone = centre = 0.0
    places, signs = np.zeros(6), np.zeros(5)
    for joint, at, seen, share, usual in notes:
        links = joint.sum(axis=1)
        if at < 6:
            here = (1 - wrong) * joint[:, at] + wrong / 6 * links
            middle = np.log(usual[at] / 2 + 1 / 12)
            told = np.clip(np.log(here.sum()), middle - np.log(5) / 2, middle + np.log(5) / 2)
            place, centre = place + share * told, centre + share * middle
            places[at] += share
        if seen == 5:
            continue
        signs[seen] += share
        if at == 6:
            only = sum(
                joint[g, q] * (sure * n.SEEN_OWN[g, q, seen] + (1 - sure) * n.SEEN_PLAIN[q, seen])
                for g in range(3)
                for q in range(6)
            )
            sign, alone = sign + share * np.log(only), alone + share * np.log(only)
            continue
        table, plain = n.SEEN_OWN[:, at, seen], (1 - sure) * n.SEEN_PLAIN[at, seen]
        sign += share * np.log(sure * here @ table / here.sum() + plain)
        alone += share * np.log(sure * links @ table + plain)
    habits = [_habit(row) for row in (places, signs)]
    place = np.clip(place, centre - np.log(25) / 2, centre + np.log(25) / 2)
    a, b = 0.6, 0.3
    parts = [
        np.log((1 - a) * (1 - b)) + place + sign,
        np.log(a * (1 - b)) + habits[0] + alone,
        np.log((1 - a) * b) + place + habits[1],
        np.log(a * b) + habits[0] + habits[1],
    ]
    without = np.logaddexp(np.log(1 - b) + alone, np.log(b) + habits[1])
    told = np.logaddexp.reduce(parts) - without
    usual = np.logaddexp(np.log(1 - a) + centre, np.log(a) + habits[0])
    number = sum(row[3] for row in notes)
    return (without + np.clip(told, usual - np.log(25) / 2, usual + np.log(25) / 2)) / (1 + 0.1 * (number - 1))


def _habit(numbers):
    whole = len(numbers) * 0.5
    ratio = special.gammaln(numbers + 0.5) - special.gammaln(0.5)
    return special.gammaln(whole) - special.gammaln(whole + numbers.sum()) + ratio.sum()


def log_posterior(x, table, cov, style_mean):
    strengths, middles = (
        np.exp(table.prior.log_mean + table.prior.log_sd * (np.linalg.cholesky(table.prior.correlation) @ y[:4]))
        for y in (x, np.zeros(14))
    )
    wrong = log_odds(DEFAULTS["weak.wrong_note"], p.WRONG_NOTE_SD * x[8])
    sure = log_odds(DEFAULTS["weak.seen_strength"], p.SEEN_SD * x[9])
    gaps = []
    for key, (kg, _) in LEVELS.items():
        kind = table.kinds[KIND[key]]
        loads = allowed_loads(kind, strengths, x)
        best = min(min(map(np.min, loads)) * np.exp(style_mean[KIND[key]]), kind.grip_kg * strengths[3])
        gaps.append(np.log(kg) - np.log(best))
        if key == "conventional":
            pull, usual = loads, allowed_loads(kind, middles, np.zeros(14))
    total = stats.multivariate_normal.logpdf(gaps, np.zeros(len(gaps)), cov) - 0.5 * float(x @ x)
    kind = table.kinds[0]
    rows = [
        (
            stop_chances(kind, pull, x, s.fatigue, s.excess),
            s.position,
            s.sign,
            s.share,
            stop_chances(kind, usual, np.zeros(14), s.fatigue, s.excess).sum(axis=0),
        )
        for s in STUCK
    ]
    return total + log_mixture(rows, wrong, sure)


@pytest.fixture(scope="module")
def case():
    table = tables()[1]
    kinds = len(table.kinds)
    level, sd = np.full(kinds, np.nan), np.full(kinds, np.nan)
    for key, (kg, width) in LEVELS.items():
        level[KIND[key]], sd[KIND[key]] = np.log(kg), width
    problem = stack([table], [Evidence(level, sd, STUCK, np.zeros(kinds), np.zeros(kinds))], DEFAULTS)
    return table, problem, sample(problem, 0, size=2.0)


def test_the_likelihood_written_out_plainly_is_the_same(case):
    table, problem, found = case
    places = [KIND[key] for key in LEVELS]
    cov = problem.error_cov[0][np.ix_(places, places)] + np.diag([w**2 for _, w in LEVELS.values()])
    draws = found.draws[:, np.random.default_rng(1).choice(found.weights.shape[1], 60, p=found.weights[0])]
    plain = np.array([log_posterior(x, table, cov, problem.style_mean[0]) for x in draws[0]])
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
    start = found.draws[0, chosen] + 0.01 * np.random.default_rng(2).standard_normal((WALKERS, p.UNKNOWNS))
    moves = [(emcee.moves.KDEMove(bw_method=0.6), 0.5), (emcee.moves.StretchMove(), 0.5)]
    np.random.seed(4)
    sampler = emcee.EnsembleSampler(WALKERS, p.UNKNOWNS, log_density, moves=moves, vectorize=True)
    sampler.run_mcmc(start, 1700)
    chain = sampler.get_chain(discard=200, flat=True)
    mean = (found.weights[0, :, None] * found.draws[0]).sum(0)
    spread = np.sqrt((found.weights[0, :, None] * (found.draws[0] - mean) ** 2).sum(0))
    np.testing.assert_allclose(chain.mean(0), mean, atol=0.07)
    np.testing.assert_allclose(chain.std(0), spread, rtol=0.06)
    best = evaluate(problem, chain[None, ::20], kinds).log_best[0, :, 0]
    shares = np.bincount(best.argmin(-1), minlength=4) / len(best)
    assert shares == pytest.approx(limiter_chances(found, 0)[0], abs=0.03)
