"""How much a lifter may pull on the day: a log-normal about the running best, lowered and widened for the meet."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date
from math import exp, hypot, log, log1p

import numpy as np
from numpy.typing import ArrayLike, NDArray

from analysis.core.estimates.normal import normal_cdf
from analysis.core.estimates.one_rep_max import Z80
from analysis.core.estimates.running_best import level_on, sd_on
from analysis.core.records.estimates import DayBest, Finding, RunningBest
from analysis.core.records.lifts import SetRecord
from analysis.core.records.messages import Message, Quantity, Unit, Value, load
from analysis.core.records.terms import BAR_WORDS, counted
from analysis.core.records.wording import percent
from analysis.core.settings import DEFAULTS, Settings

Array = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class MeetDay:
    """What is known of the meet: its date, bar, whether squat and bench come first, whether it is the first one."""

    day: date
    bar: str = "unknown"
    after_squat_and_bench: bool = True
    first_meet: bool = False
    sessions_on_bar: int = 0


def day_best(best: RunningBest, meet: MeetDay, settings: Settings = DEFAULTS) -> DayBest:
    """Predictive distribution of the day's best from the running best of the lifter's meet style.

    median = level x (1 + change after squat and bench) x (1 + first-meet change); log SD = root sum of squares
    of the level's own, the meet day's and, on a bar not trained with, the bar's. `thin` when few days stand
    behind it or the spread is wide: then common ratios are the honest plan.
    """
    level = level_on(best, meet.day) or best.now_kg
    sd = hypot(sd_on(best, meet.day) or best.sd_log[-1], settings["meet.day_sd"])
    shift, reasons = _shift(meet, settings)
    if _other_bar(best, meet, settings):
        sd = hypot(sd, settings["meet.other_bar_sd"])
        reasons.append(_bar_finding(best, meet, settings))
    thin = best.day_count < settings["meet.points_least"] or sd > settings["meet.spread_most"]
    if thin:
        text = f"Only {counted(best.day_count, 'day')} with usable sets: common ratios are used, not a fitted estimate."
        if best.day_count >= settings["meet.points_least"]:
            text = f"The best on the day is only known within {percent(Z80 * sd)}: common ratios are used."
        reasons.append(Finding("thin-data", text, "caution", (("days", best.day_count), ("sd", sd))))
    median = level * exp(shift)
    return DayBest(median, sd, median * exp(-Z80 * sd), median * exp(Z80 * sd), thin, tuple(reasons))


def _shift(meet: MeetDay, settings: Settings) -> tuple[float, list[Finding]]:
    """Log change of the level on a meet day, with its findings."""
    shift, reasons = 0.0, []
    if meet.after_squat_and_bench:
        share = settings["meet.after_squat_bench"]
        shift += log1p(share)
        text = f"Lowered by {-share:.1%} for the squat and bench of the day."
        reasons.append(Finding("after-squat-and-bench", text, "note", (("share", share),)))
    if meet.first_meet:
        share = settings["meet.first_meet"]
        shift += log1p(share)
        text = f"Lowered by {-share:.1%}: a first meet."
        reasons.append(Finding("first-meet", text, "note", (("share", share),)))
    return shift, reasons


def _other_bar(best: RunningBest, meet: MeetDay, settings: Settings) -> bool:
    """Whether the meet bar is known to differ and has not been pulled often enough."""
    trained = best.kind.tags.bar
    known = meet.bar != "unknown" and trained != "unknown"
    return known and meet.bar != trained and meet.sessions_on_bar < settings["bar.sessions_to_learn"]


def _bar_finding(best: RunningBest, meet: MeetDay, settings: Settings) -> Finding:
    wanted = settings["bar.sessions_to_learn"]
    text = (
        f"The meet bar ({BAR_WORDS[meet.bar]}) is not the training bar ({BAR_WORDS[best.kind.tags.bar]}): "
        f"{wanted:g} sessions on it are wanted, {meet.sessions_on_bar} are logged; the chances are widened for that."
    )
    return Finding("other-bar", text, "caution", (("wanted", wanted), ("done", meet.sessions_on_bar)))


def chance_of(day: DayBest, load_kg: ArrayLike, settings: Settings = DEFAULTS) -> Array:
    """Chance of making a load as the first attempt of the day, any shape: within reach and no slip."""
    z = (np.log(np.asarray(load_kg, float)) - log(day.median_kg)) / day.sd_log
    return np.asarray((1.0 - settings["meet.slip"]) * (1.0 - normal_cdf(z)))


def preparation_findings(
    sets: Iterable[SetRecord],
    levels: Sequence[RunningBest],
    meet: MeetDay,
    settings: Settings = DEFAULTS,
) -> tuple[Finding, ...]:
    """Days from the last heavy pull to the meet: too many, too few, or none logged."""
    share = settings["meet.heavy_share"]
    reference = max((b.now_kg for b in levels), default=0.0)
    heavy = [
        s
        for s in sets
        if s.tags.lift == "deadlift" and s.result == "made" and s.day < meet.day and s.load_kg >= share * reference > 0
    ]
    if not heavy:
        return (Finding("no-heavy-pull", f"No pull of {percent(share)} or more is logged before the meet.", "caution"),)
    last = max(heavy, key=lambda s: (s.day, s.load_kg))
    days = (meet.day - last.day).days
    numbers, keys = (("days", float(days)), ("load_kg", last.load_kg)), (last.key,)
    most = settings["meet.heavy_days_high"]
    values: dict[str, Value] = {
        "share": Quantity(share, Unit.SHARE),
        "load": load(last.load_kg),
        "days": Quantity(float(days), Unit.DAY),
        "most": Quantity(most, Unit.DAY),
    }
    if days > most:
        return (Finding("heavy-too-long-ago", Message("meet.heavy-too-long-ago", values), "caution", numbers, keys),)
    if days < settings["meet.heavy_days_low"]:
        return (Finding("heavy-too-near", Message("meet.heavy-too-near", values), "caution", numbers, keys),)
    return (Finding("heavy-in-window", Message("meet.heavy-in-window", values), "note", numbers, keys),)
