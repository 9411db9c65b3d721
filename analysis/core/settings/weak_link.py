"""Settings of misses and the weak-link estimate."""

from __future__ import annotations

from analysis.core.settings.record import CALIBRATION, Setting, practice

WEAK_LINK = (
    practice(
        "miss.fatigue_hours", 72, "hours", 12, 168, "A hard squat or pull within this time tires; no test before."
    ),
    practice("miss.sore", 5, "of 10", 1, 10, "Soreness from here on counts like a hard day."),
    practice(
        "miss.too_heavy",
        1.05,
        "share",
        1.0,
        1.2,
        "The day's strength is taken to be at most this share of the running best.",
    ),
    practice(
        "miss.least",
        3,
        "misses",
        1,
        10,
        "Fewer misses than this: no weak link is named; a noted slow lift counts half.",
    ),
    practice("miss.heavy_share", 0.90, "share", 0.7, 1.0, "Misses below this share of the best are shown apart."),
    practice("miss.weeks", 12, "weeks", 4, 52, "Misses older than this no longer count for the weak link."),
    practice("miss.bar_sessions", 3, "sessions", 1, 12, "A bar pulled fewer sessions than this is unfamiliar."),
    practice(
        "miss.position_block",
        1.08,
        "share",
        1.0,
        1.3,
        "Block below the knee from here: a start-position fault.",
    ),
    practice("miss.lockout_block", 1.02, "share", 0.9, 1.1, "Block below the knee up to here: weak at the top."),
    practice(
        "weak.model_sd",
        0.05,
        "share",
        0.01,
        0.2,
        "Error of the mechanical model, one unknown per kind of pull.",
    ),
    Setting(
        "weak.tag_sd",
        0.02,
        "share",
        0.0,
        0.1,
        CALIBRATION,
        "Further error between kinds of pull that differ only in grip, belt, bar or straps.",
    ),
    Setting(
        "weak.sharpness",
        33.0,
        "per share",
        5.0,
        100.0,
        CALIBRATION,
        "How sharply the bar stops where the weakest link is nearest its limit.",
    ),
    practice("weak.day_sd", 0.03, "share", 0.0, 0.1, "Shared effect of one day on all its sets."),
    practice("weak.blur", 0.08, "m", 0.01, 0.2, "How exactly the height of a miss is noted."),
    practice("weak.wrong_note", 0.10, "chance", 0.01, 0.5, "Chance that a noted position is wrong."),
    practice("weak.seen_strength", 0.70, "share", 0.0, 1.0, "How strongly what was seen points to its usual link."),
    practice(
        "weak.correlation",
        0.6,
        "correlation",
        0.0,
        0.95,
        "How hips, legs and back go together between lifters.",
    ),
    practice("weak.clear_chance", 0.70, "chance", 0.5, 0.95, "A limiter is named only from this chance on."),
    practice("weak.keep_chance", 0.55, "chance", 0.3, 0.95, "A named limiter keeps its name down to this chance."),
    Setting(
        "weak.least_shift",
        0.4,
        "log odds",
        0.0,
        3.0,
        CALIBRATION,
        "So much must the log have raised a limiter's odds before it is named.",
    ),
    practice("weak.test_share", 0.90, "share", 0.7, 0.95, "Heaviest load of a proposed test, share of the best."),
    practice("weak.test_meet_days", 10, "days", 0, 30, "No test is proposed this close to a meet."),
)

HOUSE = (
    Setting(
        "house.sumo_first",
        0,
        "switch",
        0,
        1,
        "one school's view, no source",
        "Sumo first for adults with under 2 years of steady conventional; never before pain, age, pinch, meet.",
    ),
)
