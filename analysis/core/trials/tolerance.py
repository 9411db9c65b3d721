"""How a trial is tolerated: pain in sessions running, soreness against before, and hips nearer the bar."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from statistics import fmean, median

from analysis.core.records.estimates import Finding, HipDistances, TrialPlan
from analysis.core.records.lifts import DayRecord, SetRecord
from analysis.core.records.messages import HEALTH, Message, Quantity, Unit, Value, Verbatim
from analysis.core.records.terms import written_day
from analysis.core.settings import DEFAULTS, Settings


@dataclass(frozen=True, slots=True)
class Tolerance:
    """Mean soreness before and lately, 0 to 10, with the days behind each; None when too few notes."""

    before: float | None
    lately: float | None
    days_before: int
    days_lately: int

    def gain(self) -> float | None:
        """Points by which soreness fell; negative when it rose."""
        return None if self.before is None or self.lately is None else self.before - self.lately


def tolerance_of(plan: TrialPlan, days: Iterable[DayRecord], as_of: date, settings: Settings = DEFAULTS) -> Tolerance:
    """Soreness notes of the last weeks of the trial against the same span before it."""
    span = timedelta(weeks=settings["trial.tolerance_weeks"])
    noted = [(d.day, d.soreness) for d in days if d.soreness is not None]
    before = [s for day, s in noted if plan.begins - span <= day < plan.begins]
    lately = [s for day, s in noted if max(plan.begins, as_of - span) <= day <= as_of]
    least = settings["trial.tolerance_notes"]
    return Tolerance(
        fmean(before) if len(before) >= least else None,
        fmean(lately) if len(lately) >= least else None,
        len(before),
        len(lately),
    )


def tolerance_finding(tolerance: Tolerance, settings: Settings = DEFAULTS) -> Finding:
    """Soreness before and lately in words."""
    gain = tolerance.gain()
    if gain is None or tolerance.before is None or tolerance.lately is None:
        days: dict[str, Value] = {"before": tolerance.days_before, "lately": tolerance.days_lately}
        return Finding("tolerance-unknown", Message("trial.tolerance-unknown", days, private=HEALTH))
    limit = settings["trial.tolerance_points"]
    word = "better" if gain >= limit else "worse" if gain <= -limit else "the same"
    values: dict[str, Value] = {
        "before": Quantity(tolerance.before, Unit.RPE, private=HEALTH),
        "lately": Quantity(tolerance.lately, Unit.RPE, private=HEALTH),
        "word": Verbatim(word),
    }
    text = Message("trial.tolerance", values, private=HEALTH)
    code = {"better": "tolerance-better", "worse": "tolerance-worse"}.get(word, "tolerance-same")
    numbers = (("before", tolerance.before), ("lately", tolerance.lately), ("gain", gain))
    return Finding(code, text, "caution" if word == "worse" else "note", numbers)


def pain_findings(
    rows: Sequence[SetRecord], days: Iterable[DayRecord], settings: Settings = DEFAULTS
) -> tuple[Finding, ...]:
    """Stop when sessions running had pain or heavy soreness; one such session is a caution.

    rows: the new-style sets of the trial. A set stopped for pain is never counted as a miss of strength.
    """
    notes = {d.day: d for d in days}
    hurt = {r.day: r.key for r in rows if r.result == "stopped-pain"}
    session_days = sorted({r.day for r in rows})
    bad = [d for d in session_days if d in hurt or _pained(notes.get(d), settings)]
    if not bad:
        return ()
    keys = tuple(hurt[d] for d in bad if d in hurt)
    wanted = int(settings["trial.pain_sessions"])
    if _longest_run(session_days, set(bad)) >= wanted:
        text = Message("trial.pain-stop-rule", {"sessions": wanted}, private=HEALTH)
        return (Finding("pain-stop-rule", text, "stop", (("sessions", len(bad)),), keys),)
    text = Message("trial.pain-once", {"day": Verbatim(written_day(bad[-1]))}, private=HEALTH)
    return (Finding("pain-once", text, "caution", (("sessions", len(bad)),), keys),)


def _pained(note: DayRecord | None, settings: Settings) -> bool:
    """A day note with a pain event or soreness at the stop limit."""
    return note is not None and (note.pain_event or (note.soreness or 0) >= settings["trial.stop_soreness"])


def _longest_run(days: Sequence[date], bad: set[date]) -> int:
    """Most bad sessions in a row."""
    longest = run = 0
    for day in days:
        run = run + 1 if day in bad else 0
        longest = max(longest, run)
    return longest


def hip_finding(hips: HipDistances, settings: Settings = DEFAULTS) -> Finding | None:
    """Whether the hips really came nearer the bar in the new style; None when either side was not marked."""
    if not hips.old_m or not hips.new_m:
        return None
    closer = median(hips.old_m) - median(hips.new_m)
    numbers = (("closer_m", closer), ("old_pictures", len(hips.old_m)), ("new_pictures", len(hips.new_m)))
    if closer >= settings["trial.hips_closer"]:
        return Finding("hips-closer", f"Hips {closer * 100:.0f} cm nearer the bar than before.", "note", numbers)
    text = (
        f"Not yet telling about the new style: in the marked pictures the hips are as far from the bar as in the "
        f"old one ({median(hips.new_m) * 100:.0f} against {median(hips.old_m) * 100:.0f} cm)."
    )
    return Finding("hips-as-before", text, "caution", numbers)
