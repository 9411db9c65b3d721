"""Numbers of the strength model, of the weak-link estimate and of reading misses."""

from __future__ import annotations

from analysis.core.estimates import misses
from analysis.core.settings.weak_link import WEAK_LINK
from analysis.core.strength import bending, demand_table, gate, pull_demand
from analysis.core.strength import limits as allowed
from analysis.core.strength.constants import strength_constants
from analysis.core.weak_link import (
    explain,
    findings,
    gather,
    kinds,
    likelihood,
    naming,
    next_test,
    notes,
    posterior,
    prior,
    problem,
    readings,
    report,
    sampler,
    tabulated,
    tests_offered,
    words,
)
from analysis.how_it_works.rows import (
    FINENESS,
    NO_SOURCE,
    Group,
    ShownNumber,
    living,
    number,
    of_constant,
    parts,
    settings_group,
)

CALIBRATED = "calibration", "chosen on simulated lifters, see the table"
GUESS = "calibration", "a guess of the right size"
KNEE = "calibration", "between muscle activity (Hanen 2025) and net moment with antagonists (Choe 2021): 1.2 to 2.0"


def strength_groups() -> tuple[Group, ...]:
    """References, shapes, priors, style factors and squats, and how finely a pull is cut."""
    return (
        Group("Reference strength, shapes, multipliers, style factors", tuple(map(of_constant, strength_constants()))),
        Group("How finely a pull is cut", (
            living(pull_demand, "PUSH", "pushes apart that are tried", "", FINENESS),
            living(pull_demand, "HEIGHTS", "heights of a pull", "", FINENESS),
            living(pull_demand, "FINE_M", "first heights, where a bar bends", "m", FINENESS),
            living(bending, "ROUNDS", "rounds for a bar's bending", "", FINENESS),
            *parts(bending, "FINE_M", FINENESS, [("heights for a bending bar", "every 1 mm up to 6 cm")]),
            living(demand_table, "DRAWS", "bodies drawn for the doubt of a build", "", FINENESS),
            living(allowed, "UNLIMITED_KG", "stands for: does not limit", "kg", FINENESS),
        )),
    )  # fmt: skip


def gate_groups() -> tuple[Group, ...]:
    """The limits of the gate."""
    written = [(name.replace("_", " "), number(value)) for name, value in gate.LIMITS.items()]
    source = "common practice", "trained lifters stand at 0.92 to 1.08 in either style: common practice, no source"
    return (Group("Limits of the gate", tuple(parts(gate, "LIMITS", source, written))),)


def weak_link_groups() -> tuple[Group, ...]:
    """Settings, what is fixed, and how finely it is computed."""
    return (
        settings_group("Misses and weak link", WEAK_LINK),
        Group("Fixed numbers of the estimate", (*_estimate(), *_seen())),
        Group("Fixed numbers of naming and of tests", _naming()),
        Group("How finely it is computed", _fineness()),
    )


def _estimate() -> tuple[ShownNumber, ...]:
    return (
        living(gather, "LIFT_SD", "lift to lift within one day, log SD", "", GUESS),
        living(tabulated, "SLOPE_SD", "strength at lockout against the floor: spread about the model's curve", "",
               CALIBRATED),
        living(tabulated, "LEAST_SHAPE", "of a link's strength that any slope leaves", "", GUESS),
        living(tabulated, "FLOOR_SD", "loads above the floor band against those in it, log SD", "", CALIBRATED),
        living(tabulated, "KNEE_START", "the knee's demand / the net moment's, conventional start", "", KNEE),
        living(tabulated, "KNEE_START_SD", "its log SD", "", KNEE),
        living(tabulated, "KNEE_LATER", "the same later in the pull, and in wide stances", "", KNEE),
        living(tabulated, "KNEE_LATER_SD", "its log SD", "", KNEE),
        living(tabulated, "KNEE_FADE", "share of the pull by which it has changed", "", GUESS),
        living(tabulated, "KNEE_CORRELATION", "of the two styles' factors in one lifter", "", GUESS),
        living(prior, "FATIGUE", "strength that a hard day takes at first, share", "", GUESS),
        living(prior, "FATIGUE_SD", "its log SD between lifters", "", GUESS),
        living(likelihood, "TIRED", "what of it falls on hips, legs, back", "", GUESS),
        living(misses, "FADES_H", "hours in which that falls to 1 / e", "", GUESS),
        living(misses, "SAME_DAY_H", "hours between squats and pulls of one day", "", NO_SOURCE),
        living(misses, "SORE_LIKE_H", "a sore day counts like a hard day so many hours before", "", GUESS),
        living(misses, "FATIGUE_STEPS", "tiredness left, to the nearest of", "", FINENESS),
        living(misses, "TIRED_LESS", "of a note's worth that full tiredness takes", "", GUESS),
        living(misses, "NEW_BAR_WORTH", "worth of a note on a new bar", "", GUESS),
        living(misses, "EXCESS_SHARE", "of the load over the level that is put on the day", "", GUESS),
        living(misses, "EXCESS_STEP", "that part, log, to the nearest", "", FINENESS),
        living(misses, "AFTER_PAIN", "a sudden fall so long after pain is read as pain", "", NO_SOURCE),
        living(tabulated, "SLOPE_CENTRE", "share of the pull about which that curve turns", "", GUESS),
        living(prior, "SHARPNESS_SD", "doubt of how sharply the bar stops, log SD", "", CALIBRATED),
        living(prior, "WRONG_NOTE_SD", "doubt of how often a note is wrong, log odds", "", CALIBRATED),
        living(prior, "SEEN_SD", "doubt of how surely what was seen points to its link, log odds", "", CALIBRATED),
        living(notes, "MADE_HEAVY_NOISE", "how much less a made lift's slowest height tells", "", GUESS),
        living(likelihood, "GRIP_BLUR", "how sharply the grip opens before the body stops, log", "", GUESS),
        living(likelihood, "GRIP_NOTE_ERROR", "chance that a note on the grip is wrong", "", GUESS),
        living(likelihood, "GRIP_WRONG_SHARE", "and of the lifter's own chance of a wrong note", "", GUESS),
        living(notes, "HABIT_PLACES", "chance that the places of a lifter's stops are a habit", "", CALIBRATED),
        living(notes, "HABIT_SIGNS", "chance that what is seen of him is a habit", "", CALIBRATED),
        living(problem, "HABIT_CONCENTRATION", "how even a habit is (Dirichlet, each class)", "", GUESS),
        living(problem, "ALIKE", "n notes of one lifter count as n / (1 + this x (n - 1))", "", CALIBRATED),
        living(problem, "HELD_ALIKE", "the same for notes that the grip held", "", GUESS),
        living(notes, "ONE_PLACE", "most by which one note's place moves odds", "", GUESS),
        living(notes, "ALL_PLACES", "most by which all places of a lifter do", "", GUESS),
        living(posterior, "TOLD", "chances are told with log odds times", "", CALIBRATED),
        living(gather, "LEAST_LEVEL_SD", "least doubt of any running best, log SD", "", GUESS),
        living(gather, "HEAVY_MADE", "a made lift tells of its slowest height from this share of the best", "",
               NO_SOURCE),
        living(gather, "SPENT", "a miss this little above a single made the same day is not counted twice", "", GUESS),
        living(misses, "HARD_RPE", "a set counts as hard from RPE", "", NO_SOURCE),
        living(posterior, "GAIN", "what a stronger link would give is told for", "times its strength",
               ("calibration", "5 % more, as the pages say")),
    )  # fmt: skip


def _seen() -> tuple[ShownNumber, ...]:
    links = ("hips", "legs", "back")
    told = [
        (
            f"usual link of “{sign.replace('-', ' ')}”",
            links[link] if link is not None else "says no more than the place",
        )
        for sign, link in notes.USUAL_LINK.items()
    ]
    return (
        *parts(notes, "USUAL_LINK", NO_SOURCE, told),
        living(notes, "_NEVER_MOVED", "of lifts stuck at the floor, noted as never moved", "", NO_SOURCE),
        living(notes, "_STRAY", "chance that a sign is noted where it cannot be", "", GUESS),
    )


def _naming() -> tuple[ShownNumber, ...]:
    return (
        living(naming, "UNEXPECTED", "the model rarely stops a bar at a place below this chance", "", CALIBRATED),
        living(naming, "LEAST_MISSES", "misses needed to name a link, however many slow lifts", "", NO_SOURCE),
        living(report, "LOOKS_BACK", "training days looked back over for a name given before", "", FINENESS),
        living(report, "SUSPECT_MISSES", "up to so many misses name a first suspect only", "", NO_SOURCE),
        living(words, "LIKELY", "likely, from a chance of", "", NO_SOURCE),
        living(words, "LEANING", "leaning to, from a chance of", "", NO_SOURCE),
        living(words, "SUREST", "chances of a link are told as at most", "", CALIBRATED),
        living(naming, "HEAVY_MADE_WORTH", "a made heavy lift counts as this much of a miss", "", GUESS),
        living(kinds, "MOST_KINDS", "kinds of lift used at most", "", FINENESS),
        living(kinds, "BLOCK_OF_STATURE", "height of the block offered as a test / stature", "", NO_SOURCE),
        living(kinds, "DEFICIT_M", "deficit offered as a test", "m", NO_SOURCE),
        living(tests_offered, "REPS", "reps of a test", "", NO_SOURCE),
        living(tests_offered, "RPE", "RPE of a test, at most", "", NO_SOURCE),
        living(tests_offered, "TRIPLE_SHARE", "a triple at RPE 8 / the best", "", ("published",
               "mean of Epley 1985 and Brzycki 1993 at 5 reps to failure")),
        living(tests_offered, "TEST_SD", "how exactly such a triple tells the best, log SD", "", GUESS),
        living(tests_offered, "PAIN_DAYS", "no test for so long after pain", "days", NO_SOURCE),
        living(findings, "FRONT_LOW", "front squat / deadlift, below: the legs may limit", "", NO_SOURCE),
        living(findings, "FRONT_HIGH", "front squat / deadlift, above: the legs hardly limit", "", NO_SOURCE),
        living(findings, "ASK_POSITION", "block pull / floor pull, above: asks how the start looks", "", NO_SOURCE),
        living(findings, "SQUAT_LAG", "deadlift / squat, above: the squat lags", "", NO_SOURCE),
    )  # fmt: skip


def _fineness() -> tuple[ShownNumber, ...]:
    return (
        living(prior, "UNKNOWNS", "unknowns of one lifter", "", FINENESS),
        living(sampler, "PRIOR_DRAWS", "first draws", "", FINENESS),
        living(sampler, "ADAPTED_DRAWS", "draws of the further rounds", "", FINENESS),
        living(sampler, "ENOUGH", "effective draws below which there is one round more", "", FINENESS),
        living(sampler, "MORE_DRAWS", "draws of that round", "", FINENESS),
        living(sampler, "MORE_ROUNDS", "such rounds at most", "", FINENESS),
        living(report, "LOOK_SIZE", "share of the draws, for looking back for a name", "", FINENESS),
        living(sampler, "FIT_DRAWS", "draws that must carry a fit", "", FINENESS),
        living(sampler, "PRIOR_SHARE", "share of a round still drawn from the start", "", FINENESS),
        living(sampler, "WIDEN", "each round is wider than its fit by, variance", "", FINENESS),
        living(sampler, "LEAST_CLASS", "least share of draws for each link", "", FINENESS),
        living(sampler, "SEED", "seed: the same log gives the same chances", "", FINENESS),
        living(explain, "ASKED_DRAWS", "draws asked what moved them", "", FINENESS),
        living(explain, "EXPECTED_DRAWS", "draws asked where they expect a bar to stop", "", FINENESS),
        living(posterior, "EVEN_DRAWS", "draws behind a range", "", FINENESS),
        living(tabulated, "BIG_KG", "stands for: does not limit", "kg", FINENESS),
        living(tabulated, "CENTRED_ON", "draws on whose median a kind is centred", "", FINENESS),
        living(readings, "COMPARED_SHARE", "load the styles are compared at / the main style's best", "", NO_SOURCE),
        living(readings, "ROUNDED_TO_KG", "to the nearest", "kg", FINENESS),
        living(next_test, "RESULTS", "results of a test that are tried", "", FINENESS),
        *parts(gather, "_GRID", FINENESS, [("grid over a level, spreads", "-4 to 4 in 81 steps")]),
        *parts(gather, "_NODES", FINENESS, [("nodes over a day's shared effect", str(len(gather._NODES)))]),
    )
