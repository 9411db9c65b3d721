"""Settings of meet attempts and warm-ups."""

from __future__ import annotations

from analysis.core.settings.record import CALIBRATION, Setting, practice

MEETS = (
    practice("meet.opener_chance", 0.95, "chance", 0.7, 0.99, "The opener must be made with at least this chance."),
    practice("meet.step", 2.5, "kg", 0.5, 5.0, "Attempts move in steps of this size."),
    practice("meet.opener_ratio", 0.91, "share", 0.8, 0.98, "Thin data: opener as a share of the best."),
    practice("meet.second_ratio", 0.96, "share", 0.85, 1.0, "Thin data: second attempt as a share of the best."),
    practice("meet.third_ratio", 1.01, "share", 0.9, 1.06, "Thin data: third attempt as a share of the best."),
    practice("meet.careful_opener", 0.85, "share", 0.7, 0.92, "Careful attempts: opener as a share of the best."),
    practice("meet.careful_second", 0.90, "share", 0.75, 0.95, "Careful attempts: second as a share of the best."),
    practice("meet.careful_third", 0.95, "share", 0.8, 0.97, "Careful attempts: third as a share of the best."),
    practice("meet.points_least", 4, "days", 1, 20, "Fewer days with usable sets than this: the data are thin."),
    Setting(
        "meet.spread_most",
        0.06,
        "share",
        0.02,
        0.2,
        CALIBRATION,
        "A wider day's best than this: the data are thin.",
    ),
    practice("meet.day_sd", 0.025, "share", 0.005, 0.08, "How much the best varies on a meet day."),
    practice("meet.after_squat_bench", -0.015, "share", -0.1, 0.0, "Change of the deadlift after squat and bench."),
    practice("meet.first_meet", -0.035, "share", -0.15, 0.0, "Further change at a lifter's first meet."),
    practice("meet.other_bar_sd", 0.02, "share", 0.0, 0.1, "Extra doubt when the meet bar is not the training bar."),
    practice("meet.attempt_cost", 0.005, "share", 0.0, 0.05, "Cost of each attempt to the next one."),
    practice(
        "meet.slip",
        0.02,
        "chance",
        0.0,
        0.2,
        "Chance that a load within reach is lost to a rule, grip or balance.",
    ),
    practice(
        "meet.opener_warning",
        0.93,
        "share",
        0.85,
        1.0,
        "An opener above this share of the goal is a warning.",
    ),
    practice("meet.heavy_share", 0.90, "share", 0.8, 1.0, "The last heavy pull before a meet is counted from here."),
    practice("meet.heavy_days_low", 5, "days", 2, 14, "Heavier than that within this many days: little rest."),
    practice("meet.heavy_days_high", 17, "days", 10, 40, "No heavy pull for more than this: sharpness may be lost."),
    practice("meet.alternative_risk", 25, "per share", 0, 100, "How far the safer and bolder alternatives lean."),
    practice("meet.bias_sd", 0.02, "share", 0.0, 0.08, "How far a lifter's meet days lie from the log (SD)."),
    practice("meet.read_rpe_sd", 0.03, "share", 0.01, 0.1, "Error of the best read off a hard lift's reps left (SD)."),
    practice("meet.read_easy_sd", 0.055, "share", 0.01, 0.2, "The same off an easy warm-up."),
    practice("meet.read_speed_sd", 0.02, "share", 0.005, 0.1, "Error of the best read off bar speed (SD)."),
    practice(
        "meet.opener_most", 0.94, "share", 0.8, 0.98, "Heaviest opener after good warm-ups, share of the day's middle."
    ),
    Setting("meet.read_widening", 6.0, "times", 0.0, 20.0, CALIBRATION, "How that error grows under the best."),
    Setting("meet.z_opener", -3.0, "SD", -5.0, 0.0, CALIBRATION, "Opener, nothing read on the day."),
    Setting("meet.z_second", -1.0, "SD", -4.0, 1.0, CALIBRATION, "Second, nothing read on the day."),
    Setting("meet.z_opener_read", -3.0, "SD", -5.0, 0.0, CALIBRATION, "Opener after warm-ups were read."),
    Setting("meet.z_second_read", -1.2, "SD", -4.0, 1.0, CALIBRATION, "Second after warm-ups were read."),
)

WARM_UPS = (
    practice("warm.first", 0.35, "share of opener", 0.2, 0.5, "First step of the warm-up, 5 reps."),
    practice("warm.second", 0.50, "share of opener", 0.3, 0.6, "Second step of the warm-up, 3 reps."),
    practice("warm.third", 0.62, "share of opener", 0.4, 0.7, "Third step of the warm-up, 2 reps."),
    practice("warm.fourth", 0.74, "share of opener", 0.5, 0.8, "Fourth step of the warm-up, 1 rep."),
    practice("warm.fifth", 0.82, "share of opener", 0.6, 0.9, "Fifth step of the warm-up, 1 rep."),
    practice("warm.last", 0.90, "share of opener", 0.8, 0.95, "Last step of the warm-up, 1 rep."),
    practice("warm.gap_minutes", 4, "min", 1, 15, "Minutes between warm-ups."),
    practice("warm.last_minutes", 7, "min", 2, 20, "Minutes from the last warm-up to the opener."),
)
