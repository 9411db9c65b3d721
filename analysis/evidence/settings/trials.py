"""Settings of style trials."""

from __future__ import annotations

from .record import CALIBRATION, Setting, practice

TRIALS = (
    practice("trial.weeks", 12, "weeks", 4, 52, "Usual length of a trial."),
    practice("trial.weeks_least", 8, "weeks", 2, 52, "Before this many weeks the answer is: too early."),
    practice(
        "trial.exposures_least",
        12,
        "sessions",
        4,
        60,
        "Before this many sessions in the new style: too early.",
    ),
    practice("trial.sessions_a_week", 1.5, "sessions", 0.5, 4, "Usual sessions a week in the new style."),
    practice("trial.extend_weeks", 4, "weeks", 1, 12, "How much longer an extended trial runs."),
    practice(
        "trial.meet_weeks", 12, "weeks", 0, 30, "A trial is not started this close to an important date."
    ),
    practice(
        "trial.partly_weight",
        0.5,
        "sessions",
        0,
        1,
        "How much a session only partly in the new style counts.",
    ),
    practice(
        "trial.attendance_least",
        0.75,
        "share",
        0.3,
        1.0,
        "Below this share of the planned sessions: no verdict.",
    ),
    practice(
        "trial.dip_mean",
        -0.15,
        "share",
        -0.4,
        0.0,
        "Usual first-day level of a new style against where it ends.",
    ),
    practice(
        "trial.dip_sd", 0.08, "share", 0.01, 0.3, "How much that first-day dip differs between lifters."
    ),
    practice("trial.tau", 8, "sessions", 2, 40, "Sessions after which about two thirds of the dip is gone."),
    practice(
        "trial.tau_spread",
        0.4,
        "log SD",
        0.1,
        1.0,
        "How much that number of sessions differs between lifters.",
    ),
    practice(
        "trial.difference_sd", 0.06, "share", 0.02, 0.2, "How far two trained styles usually lie apart."
    ),
    practice(
        "trial.trend_sd", 0.002, "share a week", 0.0, 0.02, "Usual slow change of a trained lifter in a week."
    ),
    practice(
        "trial.trend_sd_beginner", 0.01, "share a week", 0.0, 0.05, "Usual change of a beginner in a week."
    ),
    practice(
        "trial.noise_sd", 0.035, "share", 0.01, 0.10, "Noise of one day's estimated best within a trial."
    ),
    practice(
        "trial.worthwhile", 0.02, "share", 0.0, 0.10, "Smallest change of the best that is worth a new style."
    ),
    practice("trial.equal_within", 0.02, "share", 0.0, 0.10, "Two styles within this are called equal."),
    Setting(
        "trial.adopt_chance",
        0.80,
        "chance",
        0.5,
        0.99,
        CALIBRATION,
        "Adopt from this chance of a worthwhile gain.",
    ),
    Setting(
        "trial.drop_chance",
        0.80,
        "chance",
        0.5,
        0.99,
        CALIBRATION,
        "Drop from this chance of a worthwhile loss.",
    ),
    practice(
        "trial.tolerance_points", 2, "of 10", 0.5, 6, "Mean soreness lower by this: clearly better tolerated."
    ),
    practice(
        "trial.tolerance_notes",
        4,
        "days",
        2,
        20,
        "Day notes wanted on each side before soreness is compared.",
    ),
    practice("trial.pain_sessions", 2, "sessions", 1, 5, "Sessions with pain in a row that end a trial."),
    practice(
        "trial.stop_soreness",
        7,
        "of 10",
        4,
        10,
        "Soreness from here in that many sessions in a row ends a trial.",
    ),
    practice(
        "trial.hips_closer",
        0.02,
        "m",
        0.0,
        0.10,
        "Hips at least this much closer to the bar: the new style is real.",
    ),
    practice(
        "trial.hint_ratio",
        0.95,
        "share",
        0.8,
        1.1,
        "Untrained against trained style from here: a strong hint.",
    ),
    practice(
        "trial.weak_ratio",
        0.80,
        "share",
        0.5,
        0.95,
        "Untrained against trained below this is still no rejection.",
    ),
)
