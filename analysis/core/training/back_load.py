"""Load on the lower back and spacing of heavy pulls: sums and days against windows, never a ratio, never a forecast."""

from __future__ import annotations

from collections.abc import Sequence, Set
from dataclasses import dataclass, replace
from datetime import date, timedelta
from itertools import pairwise

import numpy as np
from numpy.typing import ArrayLike, NDArray

from analysis.core.estimates.comparable import tags_among
from analysis.core.estimates.effort import RpeCreep, rpe_creeps, slower_pulls
from analysis.core.records.estimates import BackLoad, Finding, StyleSpacing
from analysis.core.records.lifts import DayRecord, SetRecord
from analysis.core.records.messages import HEALTH, MASS, Message, Quantity, Unit, as_message, load
from analysis.core.settings import DEFAULTS, Settings

Array = NDArray[np.float64]
FOUR_WEEKS = timedelta(days=28)
WEEKS_SHOWN = 12
BACK_LIFTS = ("deadlift", "romanian", "good-morning", "back-raise", "row", "squat", "front-squat")

CONTRARY = (
    Finding(
        "belcher-2019",
        "Belcher et al. 2019 (12 trained men, 4 sets to failure at 80 %): bar speed fell for up to 72 hours after "
        "squats but not after deadlifts, and markers of damage did not differ between lifts.",
    ),
    Finding(
        "erectors-equal",
        "Studies of muscle activity found no difference of the lumbar erectors between conventional and sumo "
        "(Escamilla et al. 2002 and a later study).",
    ),
)
LIMITS = "This adds up what the back was asked to hold. It does not predict injury."


@dataclass(frozen=True, slots=True)
class Loaded:
    """Sets that load the back, with arrays of the same length: moment, N m; share of the running best on the day."""

    sets: tuple[SetRecord, ...]
    moment_nm: Array
    share: Array


def back_load(
    sets: Sequence[SetRecord],
    moment_nm: ArrayLike,
    share: ArrayLike,
    days: Sequence[DayRecord],
    as_of: date,
    settings: Settings = DEFAULTS,
    *,
    trunk_capacity_nm: float | None = None,
) -> BackLoad:
    """Sums since the last heavy pull and over four weeks, spacing per style, and what rises together.

    moment_nm: greatest trunk moment of one rep of each set, N m, NaN where no model exists; share: load as a
    fraction of the lifter's running best of that kind on that day, NaN when unknown. Both shape (sets,).
    Deadlifts, squats, rows, good mornings and their kin count. Load = moment times reps made or tried.
    """
    every = _loaded(sets, moment_nm, share, as_of)
    spacing = spacing_by_style(every.sets, every.share, as_of, settings)
    since = min((s.days_since for s in spacing if s.days_since is not None), default=None)
    loaded = every if since is None else _lately(every, as_of, max(7 * WEEKS_SHOWN, since))
    load = _load(loaded)
    age = np.array([(as_of - s.day).days for s in loaded.sets], float)
    last_28, before_28 = _sum(load, age < 28), _sum(load, (age >= 28) & (age < 56))
    return BackLoad(
        as_of=as_of,
        since_heavy_nm=_sum(load, age < since) if since is not None else _sum(load, age >= 0),
        last_28_nm=last_28,
        before_28_nm=before_28,
        capacity_reps_28=last_28 / trunk_capacity_nm if trunk_capacity_nm else None,
        by_lift_28_nm=_by_lift({tags.lift for tags in tags_among(every.sets)}, loaded, load, age),
        weeks=_weeks(load, age, as_of),
        spacing=spacing,
        sets_counted=int(np.sum(~np.isnan(load) & (age < 28))),
        sets_without_moment=int(np.sum(np.isnan(load) & (age < 28))),
        findings=_findings(every.sets, days, as_of, (last_28, before_28), spacing, settings),
    )


def with_soreness(
    load: BackLoad, sets: Sequence[SetRecord], days: Sequence[DayRecord], settings: Settings = DEFAULTS
) -> BackLoad:
    """The same load with the findings of `back_load` once the days' notes are read, too; `sets` as given there."""
    loaded = [s for s in sets if s.tags.lift in BACK_LIFTS and s.day <= load.as_of]
    sums = (load.last_28_nm, load.before_28_nm)
    return replace(load, findings=_findings(loaded, days, load.as_of, sums, load.spacing, settings))


def _loaded(sets: Sequence[SetRecord], moment_nm: ArrayLike, share: ArrayLike, as_of: date) -> Loaded:
    """Only sets up to the day, of lifts that load the back."""
    keep = [i for i, s in enumerate(sets) if s.tags.lift in BACK_LIFTS and s.day <= as_of]
    moments = np.broadcast_to(np.asarray(moment_nm, float), (len(sets),))
    shares = np.broadcast_to(np.asarray(share, float), (len(sets),))
    return Loaded(tuple(sets[i] for i in keep), moments[keep], shares[keep])


def _lately(loaded: Loaded, as_of: date, days: int) -> Loaded:
    """What the sums reach back to."""
    first = as_of - timedelta(days=days)
    keep = [i for i, s in enumerate(loaded.sets) if s.day > first]
    return Loaded(tuple(loaded.sets[i] for i in keep), loaded.moment_nm[keep], loaded.share[keep])


def _load(loaded: Loaded) -> Array:
    """Moment times reps, N m; a missed rep was still held, so tried reps count."""
    reps = np.array([max(s.reps_made, s.reps_tried) for s in loaded.sets], float)
    return np.asarray(loaded.moment_nm * reps)


def _sum(load: Array, where: NDArray[np.bool_]) -> float:
    return float(np.nansum(load[where])) if load.size else 0.0


def _by_lift(ever: Set[str], loaded: Loaded, load: Array, age: Array) -> tuple[tuple[str, float], ...]:
    """Four-week load per lift that was ever logged, largest first."""
    lifts = np.array([s.tags.lift for s in loaded.sets])
    sums = [(lift, _sum(load, (lifts == lift) & (age < 28))) for lift in BACK_LIFTS if lift in ever]
    return tuple(sorted(sums, key=lambda pair: -pair[1]))


def _weeks(load: Array, age: Array, as_of: date) -> tuple[tuple[date, float], ...]:
    """Load of each of the last weeks, by the day each week begins, oldest first."""
    return tuple(
        (as_of - timedelta(days=7 * back + 6), _sum(load, (age >= 7 * back) & (age < 7 * back + 7)))
        for back in range(WEEKS_SHOWN - 1, -1, -1)
    )


def spacing_by_style(
    sets: Sequence[SetRecord], share: ArrayLike, as_of: date, settings: Settings = DEFAULTS
) -> tuple[StyleSpacing, ...]:
    """Days since the last heavy deadlift of each style pulled, against the window of that style."""
    shares = np.asarray(share, float)
    enough = [sets[i] for i in np.flatnonzero(shares >= settings["load.heavy_share"]).tolist()]
    heavy = [s for s in enough if s.tags.lift == "deadlift" and s.day <= as_of]
    styles = sorted({tags.style for tags in tags_among(sets) if tags.lift == "deadlift" and tags.style})
    return tuple(_spacing(style, [s for s in heavy if s.tags.style == style], as_of, settings) for style in styles)


def _spacing(style: str, heavy: Sequence[SetRecord], as_of: date, settings: Settings) -> StyleSpacing:
    family = "sumo" if "sumo" in style else "conventional"
    window = (settings[f"load.window_{family}_low"], settings[f"load.window_{family}_high"])
    if not heavy:
        return StyleSpacing(style, None, "", None, window, "none", ())
    last = max(heavy, key=lambda s: (s.day, s.load_kg))
    days = sorted({s.day for s in heavy})
    gaps = tuple((b - a).days for a, b in pairwise(days))
    since = (as_of - last.day).days
    place = "sooner" if since < window[0] else "longer" if since > window[1] else "inside"
    return StyleSpacing(style, last.day, last.key, since, window, place, gaps)


def _findings(
    sets: Sequence[SetRecord],
    days: Sequence[DayRecord],
    as_of: date,
    sums: tuple[float, float],
    spacing: Sequence[StyleSpacing],
    settings: Settings,
) -> tuple[Finding, ...]:
    """A rise with its company, short spacing, then the contrary findings and the limits, always."""
    creeps = rpe_creeps(sets, as_of, settings)
    slower = slower_pulls(sets, as_of, settings)
    sore = sore_finding(days, as_of, settings)
    signs = [*(_creep_finding(c) for c in creeps), *slower, *([sore] if sore else [])]
    found = [*_rise(sums, signs, settings), *signs]
    found += [f for s in spacing if (f := _short_gap(s)) is not None]
    return (*found, *CONTRARY, Finding("no-forecast", LIMITS))


def _rise(sums: tuple[float, float], signs: Sequence[Finding], settings: Settings) -> list[Finding]:
    """A rise over four weeks: a note by itself, a caution with slower bar, higher RPE or soreness."""
    last, before = sums
    if before <= 0 or last <= before * (1.0 + settings["load.rise"]):
        return []
    numbers = (("last_28_nm", last), ("before_28_nm", before), ("more_nm", last - before))
    more = Message("back.load-up", {"more": Quantity(last - before, Unit.NEWTON_METRE, private=MASS)})
    if not signs:
        return [Finding("load-up", more, "note", numbers)]
    keys = tuple(k for sign in signs for k in sign.set_keys)
    text = Message("back.with-signs", {"rise": more, "signs": tuple(as_message(sign.text) for sign in signs)})
    return [Finding("load-up-with-signs", text, "caution", numbers, keys)]


def creep_message(creep: RpeCreep) -> Message:
    """The same load and reps felt harder."""
    return Message(
        "log.rpe-creep",
        {
            "load": load(creep.load_kg),
            "reps": creep.reps,
            "before": Quantity(creep.before_rpe, Unit.RPE),
            "now": Quantity(creep.now_rpe, Unit.RPE),
        },
    )


def _creep_finding(creep: RpeCreep) -> Finding:
    numbers = (("load_kg", creep.load_kg), ("before_rpe", creep.before_rpe), ("now_rpe", creep.now_rpe))
    return Finding("rpe-creep", creep_message(creep), "caution", numbers, creep.set_keys)


def _short_gap(spacing: StyleSpacing) -> Finding | None:
    """The last gap between heavy pulls, when shorter than the window."""
    if not spacing.gaps_days or spacing.gaps_days[-1] >= spacing.window_days[0]:
        return None
    gap, low = spacing.gaps_days[-1], spacing.window_days[0]
    text = (
        f"{spacing.style.capitalize()}: {gap} days between the last two heavy pulls; the usual window starts at "
        f"{low:g} (common practice, no source)."
    )
    return Finding("short-gap", text, "note", (("gap", float(gap)), ("window_low", low)), (spacing.last_key,))


def sore_finding(days: Sequence[DayRecord], as_of: date, settings: Settings = DEFAULTS) -> Finding | None:
    """Days of soreness at the limit within the last two weeks, with their number and span, or None."""
    since = as_of - timedelta(days=14)
    sore = sorted(d.day for d in days if since < d.day <= as_of and (d.soreness or 0) >= settings["load.sore"])
    if not sore:
        return None
    limit = Quantity(settings["load.sore"], Unit.SORENESS, private=HEALTH)
    text = Message("back.sore-days", {"limit": limit, "days": len(sore)}, private=HEALTH)
    return Finding("sore-days", text, "caution", (("days", float(len(sore))),))
