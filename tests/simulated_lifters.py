"""Simulated lifters for the weak-point checks: a known limiter, a made-up log drawn from stated chances."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace

import numpy as np

from analysis.core.records.bodies import BodyInput
from analysis.core.records.demands import DemandTable
from analysis.core.records.terms import MISS_POSITIONS
from analysis.core.settings import DEFAULTS
from analysis.core.strength.demand_table import KindAsked, demand_table
from analysis.core.weak_link.likelihood import grip_chance, link_allowed, log_bests, stuck_chances
from analysis.core.weak_link.notes import HABIT_PLACES, HABIT_SIGNS, cell_chances
from analysis.core.weak_link.prior import UNKNOWNS, Unknowns, unknowns
from analysis.core.weak_link.problem import (
    HABIT_CONCENTRATION,
    MADE_HEAVY,
    MISSED,
    NOT_NOTED,
    SHARED,
    SIGNS,
    Evidence,
    Problem,
    Stuck,
    stack,
)

KINDS = (
    KindAsked("conventional"),
    KindAsked("sumo", style="sumo"),
    KindAsked("rounded", shape="rounded-before"),
    KindAsked("block", start_offset_m=0.20),
    KindAsked("deficit", start_offset_m=-0.05),
    KindAsked("squat", lift="squat"),
    KindAsked("front-squat", lift="front-squat"),
    KindAsked("straps", straps=True),
    KindAsked("flexible", bar="flexible"),
)
KIND = {kind.key: place for place, kind in enumerate(KINDS)}
BODIES = (
    BodyInput("m", {"stature": 1.68, "mass": 72.0}, age=24),
    BodyInput("m", {"stature": 1.78, "mass": 85.0}, age=28),
    BodyInput("m", {"stature": 1.86, "mass": 104.0}, age=33),
    BodyInput("m", {"stature": 1.77, "mass": 93.0, "sitting_height": 0.95}, age=45),
    BodyInput("f", {"stature": 1.58, "mass": 56.0}, age=23),
    BodyInput("f", {"stature": 1.65, "mass": 65.0}, age=29),
    BodyInput("f", {"stature": 1.74, "mass": 80.0}, age=38),
    BodyInput("f", {"stature": 1.66, "mass": 70.0, "sitting_height": 0.90}, age=31),
)
BEST_SD = 0.03
TEST_SD = 0.05


@dataclass(frozen=True, slots=True)
class Plan:
    """What is logged: the style pulled, kinds with a level, misses, whether signs are noted, slowest heights."""

    style: str = "conventional"
    levels: tuple[str, ...] = ()
    misses: int = 0
    seen: bool = False
    slowest: int = 0
    level_sd: float = BEST_SD


@dataclass(frozen=True, slots=True)
class Squad:
    """Simulated lifters of one body: their truth and their logs; `limiter` per lifter of the plan's style."""

    table: DemandTable
    draws: np.ndarray
    limiter: np.ndarray
    true_best: np.ndarray
    evidence: list[Evidence]


Change = Callable[[Unknowns], Unknowns]


def tables() -> list[DemandTable]:
    """The demand tables of the eight bodies."""
    return [demand_table(body, KINDS) for body in BODIES]


def truth_problem(table: DemandTable, count: int, settings: dict[str, float] | None = None) -> Problem:
    """`count` lifters of one body without evidence."""
    kinds = len(table.kinds)
    empty = Evidence(np.full(kinds, np.nan), np.full(kinds, np.nan), (), np.zeros(kinds), np.zeros(kinds))
    one = stack([table], [empty], {**DEFAULTS, **(settings or {})})
    repeated = {
        name: np.repeat(getattr(one, name), count, axis=0)
        for name in Problem.__dataclass_fields__
        if name not in (*SHARED, "prior")
    }
    return Problem(**repeated, prior=one.prior * count, conditions=one.conditions, centres=one.centres)


def squad(
    table: DemandTable,
    plan: Plan,
    count: int,
    rng: np.random.Generator,
    *,
    world: DemandTable | None = None,
    settings: dict[str, float] | None = None,
    change: Change | None = None,
    random_positions: bool = False,
    wrong_seen: float = 0.0,
    day_sd: float = 0.0,
    habits: bool = False,
) -> Squad:
    """`count` lifters drawn from the prior, and their logs under the plan.

    `world` is the table that makes the data when it is not the one that reads them; `change` alters the truth's
    nuisances; `random_positions` makes positions unrelated to the limiter; `wrong_seen` draws that share of signs
    blindly; `day_sd` adds an unmodelled effect shared by all levels; `habits` makes places and signs a habit
    as often as the model thinks, else never.
    """
    problem = truth_problem(world or table, count, settings)
    draws = rng.standard_normal((count, 1, UNKNOWNS))
    state = unknowns(problem, draws)
    state = change(state) if change else state
    log_best = bests(problem, state)
    root = np.linalg.cholesky(problem.error_cov[0])
    error = rng.standard_normal((count, len(table.kinds))) @ root.T
    true = log_best.min(-1) + problem.style_mean + error + day_sd * rng.standard_normal((count, 1))
    kind = KIND[plan.style]
    level, sd = _levels(plan, true, rng)
    stuck = _stuck(plan, problem, state, kind, rng, random_positions, wrong_seen)
    stuck = [_with_habits(s, rng) for s in stuck] if habits else stuck
    opened, held = _grips(plan, state, log_best, kind, rng)
    evidence = [Evidence(level[i], sd, tuple(s for s in stuck[i]), opened[i], held[i]) for i in range(count)]
    # grips that opened say nothing about where the body would have stopped
    evidence = [
        replace(e, stuck=e.stuck[: int(e.grip_held.sum())] + tuple(s for s in e.stuck if s.quality == MADE_HEAVY))
        if plan.misses
        else e
        for e in evidence
    ]
    return Squad(table, draws[:, 0], log_best[:, kind].argmin(-1), true, evidence)


def _with_habits(notes: list[Stuck], rng: np.random.Generator) -> list[Stuck]:
    """A lifter whose places, or whose observer's signs, are a habit that has nothing to do with strength."""
    if rng.uniform() < HABIT_PLACES:
        usual = rng.dirichlet(np.full(len(MISS_POSITIONS), HABIT_CONCENTRATION))
        notes = [replace(s, position=int(rng.choice(len(usual), p=usual))) for s in notes]
    if rng.uniform() < HABIT_SIGNS:
        usual = rng.dirichlet(np.full(len(SIGNS), HABIT_CONCENTRATION))
        notes = [s if s.sign == NOT_NOTED else replace(s, sign=int(rng.choice(len(usual), p=usual))) for s in notes]
    return notes


def bests(problem: Problem, state: Unknowns) -> np.ndarray:
    """Log best per kind and strength, lifters x kinds x 4."""
    found = [log_bests(problem, state, k, link_allowed(problem, state, k))[:, 0] for k in range(problem.shape[1])]
    return np.stack(found, axis=1)


def _levels(plan: Plan, true: np.ndarray, rng: np.random.Generator) -> tuple[np.ndarray, np.ndarray]:
    level, sd = np.full(true.shape, np.nan), np.full(true.shape[1], np.nan)
    for key in plan.levels:
        k = KIND[key]
        level[:, k] = true[:, k] + plan.level_sd * rng.standard_normal(len(true))
        sd[k] = plan.level_sd
    return level, sd


def _stuck(
    plan: Plan,
    problem: Problem,
    state: Unknowns,
    kind: int,
    rng: np.random.Generator,
    random_positions: bool,
    wrong_seen: float,
) -> list[list[Stuck]]:
    chances = stuck_chances(problem, state, (kind, 0.0, 0.0), link_allowed(problem, state, kind))
    found: list[list[Stuck]] = [[] for _ in range(len(chances))]
    for quality, number in ((MISSED, plan.misses), (MADE_HEAVY, plan.slowest)):
        if not number:
            continue
        cells = np.stack(
            [
                cell_chances(state, chances, quality, p, s)[0][:, 0]
                for p in range(len(MISS_POSITIONS))
                for s in range(len(SIGNS))
            ],
            axis=-1,
        )
        cells = cells / cells.sum(-1, keepdims=True)
        for i in range(len(chances)):
            for n in range(number):
                place = rng.choice(cells.shape[1], p=cells[i])
                position, sign = divmod(int(place), len(SIGNS))
                if random_positions:
                    position = int(rng.integers(len(MISS_POSITIONS)))
                if rng.uniform() < wrong_seen:
                    sign = int(rng.integers(1, len(SIGNS)))
                found[i].append(Stuck(f"{quality}.{n}", kind, position, sign if plan.seen else NOT_NOTED, quality))
    return found


def slowest_notes(group: Squad, test: str, rng: np.random.Generator) -> list[list[Stuck]]:
    """Where each lifter's test triple is slowest and what is seen; nothing for squats."""
    if not test.startswith(("block", "deficit", "straps", "flexible")):
        return [[] for _ in group.evidence]
    problem = truth_problem(group.table, len(group.evidence))
    state = unknowns(problem, group.draws[:, None])
    plan = Plan(test, slowest=1, seen=True)
    return _stuck(plan, problem, state, KIND[test], rng, random_positions=False, wrong_seen=0.0)


def _grips(
    plan: Plan, state: Unknowns, log_best: np.ndarray, kind: int, rng: np.random.Generator
) -> tuple[np.ndarray, np.ndarray]:
    opened = np.zeros(log_best.shape[:2])
    held = np.zeros(log_best.shape[:2])
    if plan.misses:
        opened[:, kind] = rng.binomial(plan.misses, grip_chance(log_best[:, kind], state.wrong_note[:, 0]))
        held[:, kind] = plan.misses - opened[:, kind]
    return opened, held


def stepped(table: DemandTable, cost: float = 0.15, after: float = 0.6) -> DemandTable:
    """A world whose back is weaker by `cost` from a step in the pull on: another rule for straightening."""
    kinds = []
    for kind in table.kinds:
        capacity = kind.capacity.copy()
        if kind.lift == "deadlift":
            capacity[3] = np.where(kind.u >= after, capacity[3] * (1.0 - cost), capacity[3])
        kinds.append(replace(kind, capacity=capacity))
    return replace(table, kinds=tuple(kinds))


__all__ = [
    "BODIES",
    "KIND",
    "KINDS",
    "Plan",
    "Squad",
    "bests",
    "slowest_notes",
    "squad",
    "stepped",
    "tables",
]
