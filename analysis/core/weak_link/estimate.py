"""One athlete's estimate: demand table, evidence and posterior together."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from functools import lru_cache

from analysis.core.body.anthropometry import filled_body
from analysis.core.estimates.comparable import kind_key
from analysis.core.estimates.misses import MissReading
from analysis.core.pull.lifter_postures import settled_postures
from analysis.core.records.bodies import BodyInput
from analysis.core.records.demands import DemandTable
from analysis.core.records.estimates import ComparableKind
from analysis.core.records.lifts import LifterRecord
from analysis.core.records.plain import CoreError, ImpossibleStance
from analysis.core.settings import Settings
from analysis.core.strength.demand_table import KindAsked, demand_table
from analysis.core.weak_link.gather import Gathered, gathered
from analysis.core.weak_link.kinds import (
    PreparedLog,
    as_pulled,
    asked_of,
    chosen_kinds,
    rounded_kinds,
    style_kind,
    test_kinds,
)
from analysis.core.weak_link.posterior import even_bests
from analysis.core.weak_link.problem import FloatArray, Problem, stack
from analysis.core.weak_link.sampler import Posterior, sample

_KEPT_TABLES = 512
COMPARED = ("conventional", "sumo")  # styles whose demands stand side by side, logged or not


@dataclass(frozen=True, slots=True)
class Estimate:
    """Everything the report is written from; `main` and the tests are places in the table."""

    table: DemandTable
    problem: Problem
    posterior: Posterior
    even: FloatArray  # log bests at evenly weighted draws, draws x kinds x 4
    found: Gathered
    kinds: tuple[ComparableKind, ...]
    main: int
    tests: dict[str, int]
    block_m: float
    plain: dict[str, int]  # style -> place of a plain floor pull of it, logged or not
    left_out: tuple[str, ...]  # kinds this body cannot take, in words


def estimate(
    lifter: LifterRecord,
    log: PreparedLog,
    readings: Sequence[MissReading],
    style: str,
    as_of: date,
    settings: Settings,
    size: float = 1.0,
) -> Estimate:
    """The posterior of one athlete; CoreError when the measurements are no body's or the main style is impossible.

    `size` is the share of the usual number of draws.
    """
    body = lifter.body
    kinds = chosen_kinds(log, style)
    seen = [s for s in log.sets if s.tags.shape != "unseen"]
    first = next((asked_of(k, seen) for k in kinds if k in log.kinds(style)), None)
    main = first or style_kind(style)
    tests = test_kinds(main, filled_body(body).measurement("stature").value)
    stopped = [r.set for r in readings if r.counts]
    others = [asked_of(k, seen) for k in kinds if kind_key(k) != main.key]
    compared = [
        style_kind(one, main) for one in COMPARED if one not in {k.style for k in (main, *others) if is_plain(k)}
    ]
    asked = [main, *others, *rounded_kinds(main, stopped), *tests.values(), *compared]
    asked = as_pulled(asked, settled_postures(lifter))
    possible, left_out = _possible(body, asked, settings)
    table = _table(body, possible, settings)
    found = gathered(log, readings, kinds, table, main.key, as_of, settings)
    problem = stack([table], [found.evidence], settings)
    posterior = sample(problem, table.index(main.key), size=size)
    keys = [k.key for k in table.kinds]
    return Estimate(
        table=table,
        problem=problem,
        posterior=posterior,
        even=even_bests(problem, posterior, 0),
        found=found,
        kinds=tuple(kinds),
        main=table.index(main.key),
        tests={name: keys.index(kind.key) for name, kind in tests.items() if kind.key in keys},
        block_m=tests["block"].start_offset_m,
        plain={k.style: keys.index(k.key) for k in reversed(asked) if is_plain(k) and k.key in keys},
        left_out=left_out,
    )


def is_plain(kind: KindAsked) -> bool:
    """Whether a kind is a pull from the floor that was not seen round and is no test."""
    flat = kind.shape == "unseen" and abs(kind.start_offset_m) < 0.005
    return kind.lift == "deadlift" and flat and not kind.key.startswith("test:")


def _possible(
    body: BodyInput, asked: Sequence[KindAsked], settings: Settings
) -> tuple[list[KindAsked], tuple[str, ...]]:
    """Kinds this body can take; the first, the main style's, must be possible."""
    try:
        _table(body, asked, settings)
        return list(asked), ()
    except ImpossibleStance:
        pass
    _table(body, asked[:1], settings)
    kept, left_out = [], []
    for kind in asked:
        try:
            _table(body, [kind], settings)
            kept.append(kind)
        except ImpossibleStance as error:
            left_out.append(f"{kind.style} {kind.start_offset_m * 100:+.0f} cm: {error.reason}")
    return kept, tuple(left_out)


def _table(body: BodyInput, asked: Sequence[KindAsked], settings: Settings) -> DemandTable:
    frozen = (body.sex, tuple(sorted(body.measured_m.items())), tuple(sorted(body.sd_m.items())), body.age)
    return _cached_table(frozen, tuple(asked), settings["weak.correlation"])


@lru_cache(maxsize=_KEPT_TABLES)
def _cached_table(
    body: tuple[str, tuple[tuple[str, float], ...], tuple[tuple[str, float], ...], float | None],
    asked: tuple[KindAsked, ...],
    correlation: float,
) -> DemandTable:
    """The table of a body; the same body and kinds are asked again whenever a set is logged."""
    sex, measured, spread, age = body
    return demand_table(BodyInput(sex, dict(measured), dict(spread), age), asked, correlation)


__all__ = ["CoreError", "Estimate", "estimate"]
