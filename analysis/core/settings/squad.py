"""Settings of the squad review."""

from __future__ import annotations

from analysis.core.settings.record import practice
from athletes.schema.measurements import YOUNG_KEEP_MONTHS, YOUNG_KEEP_SETTING

SQUAD = (
    practice("squad.quiet_days", 7, "days", 2, 60, "Nothing logged for this long: worth a look."),
    practice("squad.silent_days", 14, "days", 3, 90, "Nothing logged for this long: look first."),
    practice("squad.new_days", 7, "days", 1, 28, "Misses and notes of this many last days count as new."),
    practice("squad.heavy_miss", 0.9, "share", 0.7, 1.0, "From this share of the running best a miss is heavy."),
    practice("squad.sore", 5, "points of 10", 1, 10, "From this soreness on the day is shown to the coach."),
    practice("squad.meet_days", 28, "days", 7, 120, "A meet this close is named."),
    practice("squad.trial_days", 7, "days", 1, 28, "A trial's decision this close is named."),
    practice("squad.measure_months", 12, "months", 1, 36, "An adult's measurements older than this are stale."),
    practice(
        YOUNG_KEEP_SETTING, YOUNG_KEEP_MONTHS, "months", 1, 12, "A minor's measurements older than this are stale."
    ),
    practice("squad.attempts_days", 14, "days", 3, 60, "A meet this close without planned attempts is for today."),
    practice("squad.heavy_days", 14, "days", 5, 60, "Longer without a heavy pull than this: worth a question."),
)
