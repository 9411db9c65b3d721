"""Settings of running bests, grip, bars and lower-back load."""

from __future__ import annotations

from analysis.core.settings.record import CALIBRATION, Setting, practice

BESTS = (
    Setting(
        "best.formula",
        0,
        "choice",
        0,
        6,
        "mean of Epley 1985 and Brzycki 1993: within one point of the NSCA load chart up to 10 reps",
        "Formula that turns reps to failure into an estimated best.",
        ("epley-brzycki", "epley", "brzycki", "lombardi", "mayhew", "wathan", "median"),
    ),
    practice("best.spread_1_3", 0.03, "share", 0.01, 0.15, "Spread of an estimate from 1 to 3 reps to failure."),
    practice("best.spread_4_5", 0.05, "share", 0.01, 0.20, "Spread of an estimate from 4 to 5 reps to failure."),
    practice("best.spread_6_8", 0.09, "share", 0.02, 0.30, "Spread of an estimate from 6 to 8 reps to failure."),
    practice("best.reps_most", 8, "reps", 3, 15, "Sets with more reps than this are not used for an estimate."),
    practice("best.rir_most", 3, "reps", 1, 6, "Sets with more in reserve (RPE under 7) are not used."),
    practice("best.unnoted_rir", 3, "reps", 0, 5, "Effort not noted: 0 up to this many reps in reserve assumed."),
    practice(
        "best.unnoted_share",
        0.93,
        "share",
        0.5,
        1.0,
        "Effort not noted: the day's top set counts only from this share of the best of the last 12 weeks.",
    ),
    Setting(
        "best.day_sd",
        0.019,
        "share",
        0.005,
        0.08,
        "Ruf, Chery and Taylor 2018: deadlift single, day to day 1.9 %",
        "How much a true single varies from day to day.",
    ),
    Setting(
        "best.drift_4_weeks",
        0.02,
        "share",
        0.002,
        0.10,
        CALIBRATION,
        "How far a running best usually moves in four weeks; the log moves it within a factor of four.",
    ),
    practice("best.gap_days", 28, "days", 7, 120, "A pause in the log longer than this is shaded as a gap."),
    practice(
        "best.fall_alert",
        0.15,
        "share",
        0.05,
        0.5,
        "A fall below the recent best by more than this is an alert.",
    ),
    practice(
        "best.fall_days",
        14,
        "days",
        7,
        60,
        "The sets of this many last days are held against the recent best.",
    ),
)

GRIP_AND_BAR = (
    practice(
        "grip.limit_gain",
        0.05,
        "share",
        0.01,
        0.20,
        "Grip is called limiting when straps add more than this.",
    ),
    practice(
        "bar.least_sets",
        3,
        "sets",
        1,
        20,
        "Fewer sets than this on either bar: the difference is not judged.",
    ),
    practice(
        "bar.sessions_to_learn",
        4,
        "sessions",
        0,
        20,
        "Sessions wanted on a bar that differs from the usual one.",
    ),
    practice(
        "block.order_margin",
        0.01,
        "share",
        0.0,
        0.10,
        "A lower start beating a higher one by this is a finding.",
    ),
)

LOAD = (
    practice("load.heavy_share", 0.85, "share", 0.7, 1.0, "A pull from this share of the running best is heavy."),
    practice(
        "load.window_conventional_low",
        7,
        "days",
        2,
        30,
        "Conventional: usual least days between heavy pulls.",
    ),
    practice(
        "load.window_conventional_high",
        14,
        "days",
        3,
        60,
        "Conventional: usual most days between heavy pulls.",
    ),
    practice("load.window_sumo_low", 5, "days", 2, 30, "Sumo: usual least days between heavy pulls."),
    practice("load.window_sumo_high", 7, "days", 3, 60, "Sumo: usual most days between heavy pulls."),
    practice("load.rise", 0.15, "share", 0.05, 1.0, "Four-week load above the four weeks before by this is a rise."),
    practice("load.creep_rpe", 1.0, "RPE", 0.5, 3.0, "Same load, RPE up by this: effort creep."),
    practice("load.same_load", 0.02, "share", 0.0, 0.10, "Loads within this of one another count as the same load."),
    practice(
        "load.slower",
        0.10,
        "share",
        0.02,
        0.5,
        "Pull time at the same load longer by this: the bar is slower.",
    ),
    practice("load.sore", 5, "of 10", 1, 10, "Soreness from here on counts as sore."),
    practice(
        "load.warm_up_jump",
        0.15,
        "share",
        0.05,
        0.5,
        "A jump in load within a session larger than this is noted.",
    ),
)
