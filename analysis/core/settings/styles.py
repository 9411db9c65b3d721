"""Settings of the decision about style and of the next action."""

from __future__ import annotations

from analysis.core.settings.record import CALIBRATION, Setting, practice

STYLES = (
    practice("style.spread", 0.08, "share", 0.03, 0.2, "How far sumo and conventional differ between lifters (SD)."),
    Setting("style.legs", 0.30, "weight", 0.0, 0.8, CALIBRATION, "Weight of legs over back in the lean."),
    Setting("style.legs_sd", 0.20, "weight", 0.0, 0.5, CALIBRATION, "Doubt about that weight (SD)."),
    Setting("style.build", 0.15, "weight", -0.5, 0.5, CALIBRATION, "Weight of build in the lean."),
    Setting("style.build_sd", 0.15, "weight", 0.0, 0.5, CALIBRATION, "Doubt about that weight (SD)."),
    Setting("style.cap", 0.70, "chance", 0.5, 0.9, CALIBRATION, "Most that is said of a style without own results."),
    Setting("style.trial_error", 0.027, "share", 0.01, 0.1, CALIBRATION, "Error of a trial's result (SD)."),
    practice("style.trial_cost", 0.005, "share", 0.0, 0.05, "What the weeks of a trial cost."),
    practice("style.trial_least", 0.01, "share", 0.0, 0.05, "Least expected gain of a trial worth offering."),
    practice("style.offer_chance", 0.60, "chance", 0.5, 0.9, "A trial is offered from this chance of more kilos."),
    practice("style.soreness_from", 5, "of 10", 2, 9, "Weekly back soreness from here speaks for sumo."),
    practice("style.soreness_worth", 0.02, "share", 0.0, 0.1, "What that soreness is worth in the choice."),
    practice("style.two_days_worth", 0.02, "share", 0.0, 0.1, "What a wish for two heavy days is worth."),
    practice("style.bar_worth", 0.01, "share", 0.0, 0.1, "What a flexible bar at meets is worth for sumo."),
    practice("style.bar_from", 180, "kg", 100, 300, "From this best a flexible bar counts."),
    practice("style.grip_worth", 0.01, "share", 0.0, 0.1, "What a grip that limits conventional is worth."),
    practice("style.left_worth", 0.02, "share", 0.0, 0.1, "What a style once tried and left loses."),
    practice("style.left_sessions", 8, "sessions", 2, 40, "Sessions after which a style left counts as tried."),
    practice("style.reason_least", 0.02, "share", 0.0, 0.1, "Reasons besides kilos carry a trial from this sum."),
    practice("style.house_years", 2, "years", 0.5, 10, "House rule: under this much conventional."),
    practice("style.train_weeks", 8, "weeks", 4, 16, "Weeks of training a link before the next look."),
    practice("style.narrower", 0.05, "m", 0.02, 0.15, "After a pinch: start this much narrower."),
    practice("style.round_share", 0.5, "share", 0.2, 1.0, "Heavy sets seen round from here: start flatter."),
    practice("style.round_seen", 3, "sets", 1, 10, "Heavy sets whose back was seen before that is said."),
)

NEXT = (
    Setting(
        "next.link_worth", 0.03, "share", 0.0, 0.1, CALIBRATION, "Training the right link rather than a wrong one."
    ),
    practice("next.set_cost", 0.001, "share", 0.0001, 0.01, "What one extra heavy set costs."),
    practice("next.film_sets", 0.3, "sets", 0.05, 2, "Filming one heavy set costs as much as this many sets."),
    practice("next.question_sets", 0.1, "sets", 0.01, 2, "One question costs as much as this many sets."),
    practice("next.least", 0.0005, "share", 0.0, 0.01, "Least expected gain of an action worth naming."),
    practice("next.rest_hours", 72, "hours", 24, 168, "Hours since heavy work before a test."),
    practice("next.meet_days", 10, "days", 0, 30, "No test this close to a meet."),
)
