"""Plans of three attempts: the best one for a goal, a safer and a bolder one, and the same again after a result."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise
from math import exp

import numpy as np
from numpy.typing import NDArray

from analysis.core.meets.day_best import chance_of
from analysis.core.meets.tree import Board, Result, best_branch, board, fixed_branch, outcomes, start
from analysis.core.records.estimates import AttemptPlan, Branch, DayBest, Finding, WarmUp
from analysis.core.records.messages import Message, load, share
from analysis.core.records.plain import CoreError
from analysis.core.records.wording import percent
from analysis.core.settings import DEFAULTS, Settings

Array = NDArray[np.float64]
LOWEST, HIGHEST = 0.82, 1.15  # of the median: loads outside are never worth calling for the best
SURPRISE = 1e-4  # results with less chance than this say that the estimate is wrong
BOMB_SHARE = 0.8  # the safer plan counts no lift at all as a best of this share of the median


class ImpossibleAttempts(CoreError):
    """Attempts typed in that no meet allows, or nothing left to plan."""


@dataclass(frozen=True, slots=True)
class Goal:
    """What the day is for: "best", "total" (with the subtotal, kg) or "number" (the load needed, kg)."""

    kind: str = "best"
    subtotal_kg: float = 0.0
    needed_kg: float = 0.0


def plan_attempts(
    day: DayBest, goal: Goal | None = None, taken: Sequence[Result] = (), settings: Settings = DEFAULTS
) -> tuple[AttemptPlan, ...]:
    """The main plan first, then a safer and a bolder one where they differ; all from the attempts taken on.

    The opener is limited to loads made with the chance the settings ask for. With thin data and nothing taken
    yet the main plan is the common ratios, and its findings say so. Raises ImpossibleAttempts.
    """
    goal = goal or Goal()
    _check(taken, settings)
    if day.thin and not taken:
        return (ratio_plan(day, goal, settings),)
    day = moved_by_results(day, taken, settings)
    loads = load_grid(day, goal, taken, settings)
    main = _solved("main", day, goal, loads, taken, settings, _worth(goal, loads))
    plans = [main]
    for name, sign in (("safer", -1.0), ("bolder", 1.0)):
        other = _leaning(name, sign, day, goal, loads, taken, settings)
        if all(other.loads_if_made != p.loads_if_made for p in plans):
            plans.append(other)
    return tuple(plans)


def moved_by_results(day: DayBest, taken: Sequence[Result], settings: Settings = DEFAULTS) -> DayBest:
    """The day's best as it is, or moved to the last result when the results taken are next to impossible.

    Without this a lifter far above or below the log would have no plan; the finding says that it was moved.
    """
    if not taken or _chance_of_results(day, taken, settings) >= SURPRISE:
        return day
    last = taken[-1]
    median = last.load_kg * exp(day.sd_log if last.made else -day.sd_log)
    text = Message("meet.results-surprise", {"load": load(last.load_kg), "result": "made" if last.made else "missed"})
    finding = Finding("results-surprise", text, "caution", (("load_kg", last.load_kg),))
    spread = median / day.median_kg
    return replace(
        day,
        median_kg=median,
        low_kg=day.low_kg * spread,
        high_kg=day.high_kg * spread,
        reasons=(*day.reasons, finding),
    )


def _chance_of_results(day: DayBest, taken: Sequence[Result], settings: Settings) -> float:
    loads = np.unique([r.load_kg for r in taken])
    table = board(day, loads, loads, 0.0, settings)
    return float(start(table, taken).belief.sum())


def load_grid(day: DayBest, goal: Goal, taken: Sequence[Result], settings: Settings = DEFAULTS) -> Array:
    """Loads that may be called, in steps, including every load already taken and the one needed."""
    step = settings["meet.step"]
    low, high = LOWEST * day.median_kg, HIGHEST * day.median_kg
    named = [r.load_kg for r in taken] + ([goal.needed_kg] if goal.kind == "number" else [])
    low, high = min([low, *named]), max([high, *(n + 2 * step for n in named)])
    grid = np.arange(np.floor(low / step), np.ceil(high / step) + 1) * step
    return np.unique(np.round(np.concatenate([grid, named]), 3))


def _check(taken: Sequence[Result], settings: Settings) -> None:
    """Attempts taken: at most two, never going down, more after a make."""
    if len(taken) >= 3:
        raise ImpossibleAttempts("attempts", "all three are taken: nothing is left to plan")
    for first, second in pairwise(taken):
        least = first.load_kg + (settings["meet.step"] if first.made else 0.0)
        if second.load_kg < least - 1e-6:
            raise ImpossibleAttempts("attempts", f"{second.load_kg:g} kg after {first.load_kg:g} kg is not allowed")


def _worth(goal: Goal, loads: Array) -> Callable[[Array], Array]:
    """Value of a best, kg -> value; 0 kg is no lift at all."""
    if goal.kind == "number":
        return lambda kg: (kg >= goal.needed_kg - 1e-6) + 1e-6 * kg / max(goal.needed_kg, 1.0)
    if goal.kind == "total":
        return lambda kg: np.where(kg > 0, goal.subtotal_kg + kg, 0.0)
    if goal.kind == "best":
        return lambda kg: kg
    raise ImpossibleAttempts("goal", f"there is no goal called {goal.kind!r}")


def _solved(
    name: str,
    day: DayBest,
    goal: Goal,
    loads: Array,
    taken: Sequence[Result],
    settings: Settings,
    worth: Callable[[Array], Array],
) -> AttemptPlan:
    """The optimum for one way of valuing a best, as a plan."""
    table = board(day, loads, worth(loads), float(worth(np.zeros(1))[0]), settings)
    allowed = _safe(day, loads, settings) if not taken else None
    root = best_branch(table, start(table, taken), allowed)
    if root is None:
        raise ImpossibleAttempts("attempts", "nothing heavier is left to call")
    return _described(name, goal, root, taken, settings, day)


def _safe(day: DayBest, loads: Array, settings: Settings) -> NDArray[np.bool_]:
    """Loads safe as an opener; the lightest when none is."""
    safe = chance_of(day, loads, settings) >= settings["meet.opener_chance"]
    return safe if safe.any() else np.arange(loads.size) == 0


def _leaning(
    name: str, sign: float, day: DayBest, goal: Goal, loads: Array, taken: Sequence[Result], settings: Settings
) -> AttemptPlan:
    """A plan that shies from misses (sign -1) or reaches for the heavy third (sign +1)."""
    lean = settings["meet.alternative_risk"]

    def worth(kg: Array) -> Array:
        share = np.maximum(kg / day.median_kg, BOMB_SHARE)
        return np.asarray(sign * np.exp(sign * lean * (share - 1.0)))

    return _solved(name, day, goal, loads, taken, settings, worth)


def _described(
    name: str, goal: Goal, root: Branch, taken: Sequence[Result], settings: Settings, day: DayBest
) -> AttemptPlan:
    """A tree with its value for the goal, its expected best and the chance of any lift."""
    so_far = max((r.load_kg for r in taken if r.made), default=0.0)
    finals = outcomes(root, so_far)
    expected = sum(kg * chance for kg, chance in finals.items())
    any_lift = sum(chance for kg, chance in finals.items() if kg > 0)
    value = {
        "best": expected,
        "total": expected + goal.subtotal_kg * any_lift,
        "number": sum(chance for kg, chance in finals.items() if kg >= goal.needed_kg - 1e-6),
    }[goal.kind]
    findings = (*day.reasons, *_opener_findings(root, taken, settings, day))
    return AttemptPlan(name, goal.kind, root, value, expected, any_lift, findings)


def _opener_findings(root: Branch, taken: Sequence[Result], settings: Settings, day: DayBest) -> tuple[Finding, ...]:
    if taken or root.chance >= settings["meet.opener_chance"]:
        return ()
    text = Message("meet.no-safe-opener", {"load": load(root.load_kg), "chance": share(root.chance)})
    return (Finding("no-safe-opener", text, "caution", (("chance", root.chance), ("median_kg", day.median_kg))),)


def ratio_plan(day: DayBest, goal: Goal | None = None, settings: Settings = DEFAULTS) -> AttemptPlan:
    """Common ratios of the best, rounded down to steps; the chances are those of the wide estimate."""
    goal, step = goal or Goal(), settings["meet.step"]
    shares = [settings[f"meet.{name}_ratio"] for name in ("opener", "second", "third")]
    loads = [float(np.floor(day.median_kg * share / step) * step) for share in shares]
    for place in (1, 2):
        loads[place] = max(loads[place], loads[place - 1] + step)
    table = _plain_board(day, goal, settings)
    root = fixed_branch(table, start(table), loads)
    assert root is not None
    plan = _described("common ratios", goal, root, (), settings, day)
    text = "Few data: common ratios of the best are used (common practice, no source), not a fitted estimate."
    return replace(plan, findings=(Finding("common-ratios", text, "caution"), *plan.findings))


def evaluate(
    day: DayBest, loads: Sequence[float], goal: Goal | None = None, settings: Settings = DEFAULTS
) -> AttemptPlan:
    """A coach's own three loads, a missed load being called again, with chances and value."""
    goal = goal or Goal()
    _check([Result(load, True) for load in loads[:2]], settings)
    table = _plain_board(day, goal, settings, loads)
    root = fixed_branch(table, start(table), list(loads))
    if root is None:
        raise ImpossibleAttempts("attempts", "no load was given")
    return _described("own", goal, root, (), settings, day)


def _plain_board(day: DayBest, goal: Goal, settings: Settings, extra: Sequence[float] = ()) -> Board:
    loads = np.unique(np.concatenate([load_grid(day, goal, (), settings), np.asarray(extra, float)]))
    worth = _worth(goal, loads)
    return board(day, loads, worth(loads), float(worth(np.zeros(1))[0]), settings)


def opener_finding(opener_kg: float, goal_kg: float, settings: Settings = DEFAULTS) -> Finding | None:
    """A warning when the opener lies near the goal of the day, else None."""
    share, limit = opener_kg / goal_kg, settings["meet.opener_warning"]
    if share <= limit:
        return None
    text = f"The opener is {percent(share)} of the goal; over {percent(limit)} a bad start leaves no room."
    return Finding("opener-near-goal", text, "caution", (("share", share),))


STEPS = (("first", 5), ("second", 3), ("third", 2), ("fourth", 1), ("fifth", 1), ("last", 1))


def warm_up_ladder(opener_kg: float, settings: Settings = DEFAULTS, bar_kg: float = 20.0) -> tuple[WarmUp, ...]:
    """Loads, kg, rising to the last warm-up, with reps and minutes before the opener.

    Loads are rounded to 2.5 kg (the setting's step), never under the bar; steps that round to the same load
    are taken once.
    """
    step = settings["meet.step"]
    ladder: list[WarmUp] = []
    minutes = settings["warm.last_minutes"] + settings["warm.gap_minutes"] * (len(STEPS) - 1)
    for name, reps in STEPS:
        load = max(round(opener_kg * settings[f"warm.{name}"] / step) * step, bar_kg)
        if load < opener_kg and (not ladder or load > ladder[-1].load_kg):
            ladder.append(WarmUp(load, reps, load / opener_kg, minutes))
        minutes -= settings["warm.gap_minutes"]
    return tuple(ladder)
