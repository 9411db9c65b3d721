"""Which logged sets count for a trial: sessions in the new style, and daily bests of both styles that compare."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from math import exp, sqrt

from analysis.core.estimates.comparable import difference_words, group_sets
from analysis.core.estimates.one_rep_max import set_estimates
from analysis.core.estimates.recompute import day_values, usable
from analysis.core.records.estimates import ComparableKind, TrialPlan, TrialPoint
from analysis.core.records.lifts import SetRecord
from analysis.core.records.terms import STYLE_WORDS
from analysis.core.settings import DEFAULTS, Settings

APART_FROM = ("style", "shape")  # what two styles may differ in and still be set side by side


@dataclass(frozen=True, slots=True)
class Sessions:
    """Days of the trial in the new style: weight 1 for "yes", the setting for "partly"."""

    weights: tuple[tuple[date, float], ...]
    untapped: tuple[str, ...]  # set keys in the new style with no answer yet
    not_new: tuple[str, ...]

    @property
    def exposures(self) -> float:
        """The weighted count of sessions."""
        return sum(w for _, w in self.weights)

    def before(self, day: date) -> float:
        """Exposures on days before this one."""
        return sum(w for d, w in self.weights if d < day)


@dataclass(frozen=True, slots=True)
class Sides:
    """Daily bests of both styles on one comparable footing; `unlike` says in words why there is none."""

    old: tuple[TrialPoint, ...]
    new: tuple[TrialPoint, ...]
    kind: ComparableKind | None
    unlike: tuple[str, ...]
    left_out: int  # new-style sets on another footing


def trial_sets(plan: TrialPlan, sets: Iterable[SetRecord], as_of: date) -> tuple[SetRecord, ...]:
    """Deadlifts in the new style within the trial, whatever their result."""
    return tuple(
        s
        for s in sets
        if s.tags.lift == "deadlift"
        and s.tags.style == plan.new_style
        and plan.begins <= s.day <= as_of
        and s.trial_key in ("", plan.key)
    )


def sessions_of(plan: TrialPlan, sets: Iterable[SetRecord], as_of: date, settings: Settings = DEFAULTS) -> Sessions:
    """Sessions that count: a day weighs as its best set, only "yes" and "partly" count."""
    worth = {"yes": 1.0, "partly": settings["trial.partly_weight"]}
    rows = trial_sets(plan, sets, as_of)
    days: dict[date, float] = {}
    for row in rows:
        if row.in_new_style in worth:
            days[row.day] = max(days.get(row.day, 0.0), worth[row.in_new_style])
    return Sessions(
        tuple(sorted(days.items())),
        tuple(r.key for r in rows if not r.in_new_style),
        tuple(r.key for r in rows if r.in_new_style == "no"),
    )


def sides_of(
    plan: TrialPlan,
    sets: Sequence[SetRecord],
    as_of: date,
    settings: Settings = DEFAULTS,
    *,
    returning: bool = False,
) -> Sides:
    """Daily bests of the old style (baseline and kept lightly) and the new one, same bar, grip, straps and start."""
    new = [s for s in trial_sets(plan, sets, as_of) if s.in_new_style in ("yes", "partly")]
    old = _old_sets(plan, sets, as_of, settings, returning)
    new_kinds = _by_days(new, settings)
    old_kinds = _by_days(old, settings)
    kind, unlike = _footing(plan, old_kinds, new_kinds)
    sessions = sessions_of(plan, sets, as_of, settings)
    used = new_kinds.get(kind, ()) if kind else ()
    return Sides(
        _points(old_kinds.get(kind, ()) if kind else (), plan.begins, None, settings),
        _points(used, plan.begins, sessions, settings),
        kind,
        unlike,
        len(new) - len(used),
    )


def _footing(
    plan: TrialPlan, old: Iterable[ComparableKind], new: Iterable[ComparableKind]
) -> tuple[ComparableKind | None, tuple[str, ...]]:
    """The kind on which both styles are set side by side, or the new style's main kind and what stands between."""
    old, new = list(old), list(new)
    shared = [k for k in new if k in old]
    if shared:
        return shared[0], ()
    if not old or not new:
        return (new[0] if new else None), _missing(plan, bool(old), bool(new))
    return new[0], difference_words(old[0], new[0])


def _missing(plan: TrialPlan, has_old: bool, has_new: bool) -> tuple[str, ...]:
    """In words, which side has no usable set."""
    sides = (
        (STYLE_WORDS[plan.old_style] if plan.old_style else "the old style", has_old),
        (STYLE_WORDS[plan.new_style], has_new),
    )
    return tuple(f"no usable set in {name} yet" for name, there in sides if not there)


def _old_sets(
    plan: TrialPlan, sets: Iterable[SetRecord], as_of: date, settings: Settings, returning: bool
) -> list[SetRecord]:
    """Old-style deadlifts from the baseline weeks on; a returning lifter's older bests are not used."""
    weeks = settings["trial.baseline_weeks_returning" if returning else "trial.baseline_weeks"]
    since = plan.begins - timedelta(weeks=weeks)
    return [s for s in sets if s.tags.lift == "deadlift" and s.tags.style == plan.old_style and since <= s.day <= as_of]


def _by_days(sets: Sequence[SetRecord], settings: Settings) -> dict[ComparableKind, tuple[SetRecord, ...]]:
    """Groups that hold a usable set, most days first."""
    groups = group_sets(sorted(sets, key=lambda s: s.day), APART_FROM)
    usable_days = {k: len({e.day for e in set_estimates(g, settings) if e.used}) for k, g in groups.items()}
    return {k: groups[k] for k in sorted(groups, key=lambda k: -usable_days[k]) if usable_days[k]}


def _points(
    rows: Sequence[SetRecord], begins: date, sessions: Sessions | None, settings: Settings
) -> tuple[TrialPoint, ...]:
    """One value a day with its week and the exposures before it."""
    used, _ = usable(rows, settings)
    if not used:
        return ()
    keys: dict[date, list[str]] = {}
    for found in used:
        keys.setdefault(found.day, []).append(found.key)
    return tuple(
        TrialPoint(
            day,
            (day - begins).days / 7.0,
            sessions.before(day) if sessions else 0.0,
            exp(value),
            sqrt(variance),
            tuple(keys[day]),
        )
        for day, value, variance in zip(*day_values(used), strict=True)
    )
