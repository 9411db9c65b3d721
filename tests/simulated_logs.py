"""Simulated lifters with whole logs: a known weakest link, 20 weeks of sets, misses by a bar at rest or with momentum.

Bodies are measured men who took part in no fit; the tool is told their stature and mass alone. Truth and tool share the
mechanics of the pull, so nothing here says how often a real lifter is read rightly.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import date, timedelta

import numpy as np

from analysis.core.body.body import Body
from analysis.core.records.lifts import DayRecord, LifterRecord, PullTags, SetRecord
from analysis.core.records.terms import MISS_POSITIONS
from analysis.core.strength.demand_table import KindAsked, kind_demands, strength_prior
from analysis.core.weak_link.notes import SEEN_OWN, SEEN_PLAIN
from analysis.core.weak_link.problem import SIGNS
from analysis.core.weak_link.tabulated import CENTRED_ON, Shape, binding, kind_arrays, loads
from tests.measured_bodies import measured_bodies, measured_statures

AS_OF = date(2026, 11, 23)
WEEKS, MISS_WEEKS = 20, 12
TRIPLE = 0.863  # of the best: three reps with two in reserve
FASTEST = 1.3  # m/s at which the lifter has no force left for the bar
GRAVITY = 9.80665


@dataclass(frozen=True, slots=True)
class World:
    """What the truth is made of; everything the estimate may have wrong."""

    slope_sd: float = 0.08
    floor_sd: float = 0.0
    factor: bool = False  # the knee's demand above the net moment, as the estimate's prior has it
    psi: bool = False  # instead: less efficient legs at a conventional start
    momentum: bool = False
    labels: float = 0.0  # share of signs drawn blindly, and of places one band off
    rpe: bool = False  # effort read with a bias and noise
    tired: bool = False  # hips 6, legs 7.2, back 3 % less on the squat day, half of it two days later
    habit: bool = False  # observers who write one sign in 60 % of misses


BROKEN = {"momentum": True, "labels": 0.3, "rpe": True, "tired": True}
WORLDS = {
    "as assumed before": World(),
    "labels wrong": World(labels=0.35),
    "RPE wrong": World(rpe=True),
    "momentum": World(momentum=True),
    "all broken": World(**BROKEN),
    "momentum and knee factor": World(momentum=True, factor=True),
    "all broken and knee factor": World(**BROKEN, factor=True),
    "legs by knee factor": World(factor=True),
    "legs by efficiency": World(psi=True),
    "the whole prior": World(slope_sd=0.24, floor_sd=0.12, factor=True),
}


@dataclass(frozen=True, slots=True)
class Simulated:
    """One lifter: his log as the tool reads it, style, true limiter, and where his noted misses stopped."""

    record: LifterRecord
    style: str
    limiter: str
    stops: tuple[str, ...]


@dataclass(slots=True)
class _Truth:
    """One kind of one lifter: what its links allow at each height, kg, and its demand for places."""

    kind: object
    notes: np.ndarray
    metres: np.ndarray
    bend: np.ndarray
    allowed: np.ndarray  # 3 x heights
    grip: float
    scale: float  # style factor, error and centring: the true best over that of statics

    def best(self, more: int | None = None, less: np.ndarray | None = None, momentum: bool = False) -> float:
        """Statics' best, kg; with 5 % more of one link, or tired by shares of each."""
        allowed = self.allowed.copy()
        if less is not None:
            allowed *= (1.0 - less)[:, None]
        if more is not None and more < 3:
            allowed[more] *= 1.05
        body = _carried(self, allowed) if momentum else min(float(binding(a, self.bend)) for a in allowed)
        return min(body, self.grip * (1.05 if more == 3 else 1.0))


def simulated(world: World, seed: int, squats_before: int | None = None) -> Simulated:
    """The lifter of this seed in a world; the same seed is the same man with other errors in another world."""
    rng = np.random.default_rng([6_2026, seed])
    men = measured_bodies()
    man = seed % len(men)
    style = ("conventional", "sumo")[int(rng.integers(2))]
    truth = _truths(men.mapped(lambda x: x[man : man + 1]), style, world, rng)
    main, squat = truth
    gains = [main.best(more=link, momentum=world.momentum) for link in range(4)]
    by_link = [*(float(binding(a, main.bend)) for a in main.allowed), main.grip]
    limiter = int(np.argmax(gains)) if world.momentum else int(np.argmin(by_link))
    gap = int(rng.choice([0, 2, 3, 4])) if squats_before is None else squats_before
    sets, days, stops = _log(main, squat, style, world, gap, rng)
    measured = {"stature": float(measured_statures()[man]), "mass": float(men.mass[man])}
    record = LifterRecord(
        f"simulated {seed}", "m", 30.0, "trained", measured, trained_styles=(style,), sets=sets, days=days
    )
    return Simulated(record, style, ("hips", "legs", "back", "grip")[limiter], stops)


def _shape(world: World, rng: np.random.Generator, count: int) -> Shape:
    slope = world.slope_sd * rng.standard_normal((1, count, 3))
    return Shape(slope, world.floor_sd * rng.standard_normal((1, count)), rng.standard_normal((1, count, 2)))


def _truths(man: Body, style: str, world: World, rng: np.random.Generator) -> tuple[_Truth, _Truth]:
    """The main pull and the back squat of one man, with one set of strengths and habits of the model's error."""
    prior = strength_prior()
    root = prior.log_sd[:, None] * np.linalg.cholesky(prior.correlation)
    strength = np.exp(prior.log_mean + root @ rng.standard_normal(4))[None, None]
    shape, psi = _shape(world, rng, 1), rng.standard_normal()
    many = np.exp(prior.log_mean + np.random.default_rng(3).standard_normal((1, CENTRED_ON, 4)) @ root.T)
    made = []
    for kind in kind_demands(man, 30.0, [KindAsked("main", style=style), KindAsked("squat", lift="squat")]):
        arrays = {name: np.asarray(value)[None] for name, value in kind_arrays(kind, 0.08).items()}
        plain = arrays | {"knee_log": 0.0 * arrays["knee_log"], "knee_sd": 0.0 * arrays["knee_sd"]}
        used = arrays if world.factor else plain
        straight = Shape(*(0.0 * part for part in _shape(world, np.random.default_rng(4), CENTRED_ON)))
        bent = _shape(world, np.random.default_rng(4), CENTRED_ON)
        medians = [
            np.median(np.min([binding(x, arrays["bend"][:, None]) for x in loads(a, many, s)], axis=0))
            for a, s in ((plain, straight), (used, bent))
        ]
        allowed = np.stack([x[0, 0] for x in loads(used, strength, shape)])
        if world.psi and kind.lift == "deadlift":
            start = np.clip(1.0 - kind.u / 0.35, 0.0, None)
            allowed[1] *= np.exp((-0.7 + 0.5 * psi if style == "conventional" else 0.15 * psi) * start)
        error = rng.standard_normal(2) @ np.array([kind.style_sd, 0.05])
        scale = float(np.exp(kind.style_mean + error) * medians[0] / medians[1])
        grip = kind.grip_kg * float(strength[0, 0, 3]) / scale if np.isfinite(kind.grip_kg) else 1e5
        metres = np.gradient(kind.z)
        made.append(_Truth(kind, arrays["notes"][0], metres, kind.bend_kg, allowed, grip, scale))
    return made[0], made[1]


def _carried(truth: _Truth, allowed: np.ndarray) -> float:
    """The heaviest load that momentum takes to lockout, kg, to a third of a kilogram."""
    least, most = 20.0, 1.6 * float(allowed.min(axis=0).min()) + 20.0
    for _ in range(9):
        tried = np.linspace(least, most, 9)
        goes = [_stop(truth, allowed, w) is None for w in tried]
        last = max((i for i, ok in enumerate(goes) if ok), default=0)
        least, most = tried[last], tried[min(last + 1, 8)]
        if most - least < 0.3:
            break
    return float(least)


def _stop(truth: _Truth, allowed: np.ndarray, load: float) -> int | None:
    """The height (index) at which a bar of this load stops, or None when it reaches lockout.

    While a bending bar has not put the whole load into the hands it gathers no speed: the pull must only hold what the
    bar has put there.
    """
    z, force = truth.kind.z, allowed.min(axis=0)
    square = 0.0
    for h in range(len(z) - 1):
        if truth.bend[h] < load:
            if force[h] < truth.bend[h]:
                return h
            continue
        pull = force[h] * (1.0 - min(np.sqrt(max(square, 0.0)) / FASTEST, 1.0))
        square += 2.0 * GRAVITY * (pull / load - 1.0) * (z[h + 1] - z[h])
        if square <= 0.0:
            return h
    return None


def _place(truth: _Truth, load: float, world: World, less: np.ndarray, rng: np.random.Generator) -> tuple[int, int]:
    """Link (0-2) and noted place of a pull that stops, or of the slowest height of one that does not."""
    allowed = truth.allowed * (1.0 - less)[:, None]
    if world.momentum:
        at = _stop(truth, allowed, load) if load else None  # a made lift is slowest where least is held
        at = int(allowed.min(axis=0).argmin()) if at is None else at
        return int(allowed[:, at].argmin()), int(rng.choice(len(MISS_POSITIONS), p=_even(truth.notes[at])))
    best = min(float(binding(a, truth.bend)) for a in allowed)
    sharpness = 33.0 * np.exp(0.4 * rng.standard_normal())
    carried = np.minimum(max(load, best), truth.bend)
    weight = np.exp(sharpness * (np.minimum(carried / allowed, 1.1) - 1.0)) * truth.metres
    cell = rng.choice(weight.size, p=(weight / weight.sum()).ravel())
    link, at = divmod(int(cell), weight.shape[1])
    return link, int(rng.choice(len(MISS_POSITIONS), p=_even(truth.notes[at])))


def _even(chances: np.ndarray) -> np.ndarray:
    return chances / chances.sum()


def _noted(link: int, place: int, world: World, favourite: str, rng: np.random.Generator) -> tuple[str, str]:
    """Place and sign as an observer writes them: 10 % wrong places, 70 % telling signs, 80 % of signs written."""
    if rng.uniform() < 0.10:
        place = int(rng.integers(len(MISS_POSITIONS)))
    if rng.uniform() < world.labels:
        place = int(np.clip(place + rng.choice([-1, 1]), 0, len(MISS_POSITIONS) - 1))
    table = SEEN_OWN[link, place] if rng.uniform() < 0.7 else SEEN_PLAIN[place]
    sign = SIGNS[int(rng.choice(len(SIGNS), p=_even(table)))]
    if rng.uniform() < world.labels:
        sign = SIGNS[int(rng.integers(1, len(SIGNS)))]
    if world.habit and rng.uniform() < 0.6:
        sign = favourite
    return MISS_POSITIONS[place], sign if rng.uniform() < 0.8 else ""


def _log(
    main: _Truth, squat: _Truth, style: str, world: World, gap: int, rng: np.random.Generator
) -> tuple[tuple[SetRecord, ...], tuple[DayRecord, ...], tuple[str, ...]]:
    """20 weeks: a triple and a squat triple each week, a heavy single in four weeks of ten of the last twelve."""
    tags, depth = PullTags(style=style, bar="unknown", grip="mixed"), rng.uniform() < 0.6
    squat_tags = PullTags("squat", style="", depth_verified=depth, bar="squat-bar")
    bias, spread = (0.5, 0.8) if world.rpe else (0.0, 0.0)
    favourite = SIGNS[int(rng.integers(1, len(SIGNS)))] if rng.uniform() < 0.4 else ""
    own = replace(world, habit=world.habit and bool(favourite))
    true_best, true_squat = main.scale * main.best(momentum=world.momentum), squat.scale * squat.best()
    left = float(np.exp(-max(gap, 0.5) * 24.0 / 69.0)) if world.tired else 0.0  # half after two days
    less = left * np.array([0.06, 0.072, 0.03])
    tired = main.best(less=less, momentum=world.momentum) / main.best(momentum=world.momentum)
    sets, days, stops = [], [], []
    for week in range(WEEKS):
        day = AS_OF - timedelta(days=7 * week + 2)
        strong = float(np.exp(0.03 * rng.standard_normal())) * tired
        said = float(np.clip(2.0 + bias + spread * rng.standard_normal() + 0.3 * rng.standard_normal(), 0.0, 5.0))
        load = _loaded(TRIPLE * true_best * strong)
        slow, _ = _noted(*_place(main, 0.0, world, less, rng), own, favourite, rng)
        noted = slow if rng.uniform() < 0.15 else ""
        sets.append(SetRecord(f"t{week}", day, load, 3, 3, tags, rir_low=said, rir_high=said, slowest_at=noted))
        squatted = _loaded(TRIPLE * true_squat * float(np.exp(0.03 * rng.standard_normal())))
        sets.append(SetRecord(f"s{week}", day - timedelta(days=gap), squatted, 3, 3, squat_tags, rir_low=1, rir_high=1))
        if rng.uniform() < 0.4:
            days.append(DayRecord(day, int(rng.integers(0, 7))))
        if week < MISS_WEEKS and rng.uniform() < 0.45:
            tried = _loaded(true_best * rng.uniform(0.97, 1.06))
            one, stop = _single(main, week, day, tried, true_best * strong, tags, own, less, favourite, rng)
            sets.append(one)
            stops += [stop] if stop else []
    return tuple(sets), tuple(days), tuple(stops)


def _single(
    main: _Truth,
    week: int,
    day: date,
    tried: float,
    best: float,
    tags: PullTags,
    world: World,
    less: np.ndarray,
    favourite: str,
    rng: np.random.Generator,
) -> tuple[SetRecord, str]:
    """A heavy single, made or missed, and the noted place of a miss."""
    if tried <= best:
        return SetRecord(f"m{week}", day, tried, 1, 1, tags, rir_low=0.5, rir_high=0.5), ""
    body = main.best(less=less, momentum=world.momentum)
    if main.grip <= body * (1.0 + 0.03 * rng.standard_normal()):
        slipped = SetRecord(
            f"m{week}", day, tried, 0, 1, tags, "missed", miss_position="lockout", gave_way="grip-opened"
        )
        return slipped, ""
    over = body * max(tried / best, 1.005)
    place, sign = _noted(*_place(main, over, world, less, rng), world, favourite, rng)
    return SetRecord(f"m{week}", day, tried, 0, 1, tags, "missed", miss_position=place, gave_way=sign), place


def _loaded(kg: float) -> float:
    return max(round(kg / 2.5) * 2.5, 20.0)
