"""The body's numbers: masses, measurement errors, what is refused or asked about, bars, bounds of a setup."""

from __future__ import annotations

from math import pi

from analysis.core.body import anthropometry, body
from analysis.core.body.constants import DE_LEVA, all_constants
from analysis.core.leverages import agreement, knowing, narrowing, pair
from analysis.core.leverages import findings as leverage_findings
from analysis.core.leverages import report as leverages
from analysis.core.leverages import sweeps as stance_sweeps
from analysis.core.pull import (
    bar,
    checks,
    habits,
    hinge,
    lifter_postures,
    own_posture,
    path,
    posture,
    pull,
    setups,
)
from analysis.core.pull import batch as squad
from analysis.how_it_works.rows import FINENESS, NO_SOURCE, Group, ShownNumber, living, number, of_constant, parts
from athletes.measuring import repeats, stale
from athletes.measuring import stale as stance
from athletes.schema import measurements
from athletes.schema.measurements import MEASUREMENTS
from athletes.schema.vocabulary import BarOverFoot, Sex
from athletes.units import builds as cross
from athletes.units import typed_lengths as typed

PERINI = "from memory", "in the range Perini et al. 2005 (Rev Bras Med Esporte 11:81-85) call acceptable"
ANSUR = "published", "ANSUR II, Gordon et al. 2014, NATICK/TR-15/007: 4,082 men, 1,986 women"
CALIBRATED = "calibration", "chosen so that real bodies pass and typing slips are asked about"
TYPING = "calibration", "outside it is a typing slip, not a technique"
UNIT = "published", "exact by definition"
ARM = "from memory", "shoulder to fingertip"
GEOMETRY = "calibration", "smaller differences are called about the same"
SEXES = (("m", "man"), ("f", "woman"))


def body_groups() -> tuple[Group, ...]:
    """Lengths and masses of the model's body."""
    lengths = tuple(of_constant(c) for c in all_constants() if "stature" in c.key or "breadth" in c.key)
    return (Group("Lengths as shares", lengths), Group("Masses", tuple(_masses())))


def _masses() -> list[ShownNumber]:
    source = "published", DE_LEVA
    written = [
        (f"{segment}, {sex}: mass / body mass; centre; radius; length (m)",
         number((s.mass, s.centre, s.radius, s.length)))
        for key, sex in SEXES for segment, s in body.DE_LEVA[key].items()
    ]  # fmt: skip
    rows = parts(body, "DE_LEVA", source, written)
    for name, label in (
        ("MID_SHOULDER_TO_MID_HIP", "middle of the shoulders to middle of the hips"),
        ("CERVICALE_TO_MID_HIP", "neck (C7) to middle of the hips"),
    ):
        rows += parts(
            body, name, source, [(f"{label}, {sex}", f"{getattr(body, name)[key]:.4g} m") for key, sex in SEXES]
        )
    return rows


def measuring_groups() -> tuple[Group, ...]:
    """Measurement error, repeats, what is refused and what is asked about."""
    errors = [
        (f"usual error of one {name.replace('_', ' ')}", f"{value:g} kg" if name == "mass" else f"{value * 100:g} cm")
        for name, value in anthropometry.MEASUREMENT_ERROR.items()
    ]
    return (
        Group("Error of one measurement", tuple(parts(anthropometry, "MEASUREMENT_ERROR", PERINI, errors))),
        Group("Repeats and staleness", _repeats()),
        Group("Refused or asked about", (*_ranges(), *_fit())),
        Group("Shares of stature between people", tuple(_shares())),
    )


def _repeats() -> tuple[ShownNumber, ...]:
    return (
        living(repeats, "RELATIVE_TEM_LIMIT", "accepted technical error of a practised measurer, share", "1", PERINI),
        living(repeats, "DIFFERENCE_PER_TEM", "difference of two readings passed once in twenty, over that error", "1",
               ("published", "1.96 times the square root of 2, from the normal distribution")),
        living(repeats, "TAPE_STEP_CM", "least difference that asks for another reading", "cm", NO_SOURCE),
        living(stale, "YOUNG_KEEP", "measurements of someone under 18 are kept for", "", NO_SOURCE),
        living(stale, "ADULT_AGE", "age from which the tables of adults hold", "years", UNIT),
    )  # fmt: skip


def _ranges() -> list[ShownNumber]:
    written = [
        (f"{one.label}: usual; possible",
         f"{one.limits.usual[0]:g} to {one.limits.usual[1]:g}; "
         f"{one.limits.possible[0]:g} to {one.limits.possible[1]:g} {one.base}")
        for one in MEASUREMENTS
    ]  # fmt: skip
    source = "calibration", "about five spreads of ANSUR II, wider for teenagers; the possible range is from memory"
    return parts(measurements, "MEASUREMENTS", source, written)


def _fit() -> tuple[ShownNumber, ...]:
    return (
        living(measurements, "ARM_LENGTH", "one arm given as arm span, cm", "", ARM),
        living(measurements, "ARM_SHARE", "the same as shares of stature", "", NO_SOURCE),
        living(cross, "RARE", "a share of stature this many spreads away is asked about", "", CALIBRATED),
        living(cross, "RARE_YOUNG", "the same under 18", "", CALIBRATED),
        living(cross, "HEAVY", "body mass over stature squared outside which its unit is asked about", "kg/m²",
               CALIBRATED),
        living(anthropometry, "SURPRISING_SD", "spreads from what the others say: warned about", "", CALIBRATED),
        living(anthropometry, "FAR_OUTSIDE_SD", "spreads of stature beyond which the table is extrapolated", "",
               CALIBRATED),
        living(leverages, "GRIP_TOLERANCE_M", "lockout and standing grip height may differ by", "m", CALIBRATED),
        living(leverages, "MAX_LOAD_KG", "heaviest load taken", "kg", TYPING),
        living(stance, "NARROWEST", "narrowest stance tried with a dowel", "cm", ("from memory", "ankle to ankle")),
        living(stance, "WIDEST", "widest stance tried with a dowel", "cm", ("from memory", "ankle to ankle")),
        *parts(typed, "IN_CM", UNIT, [("cm in one " + ", ".join(typed.IN_CM), number(tuple(typed.IN_CM.values())))]),
        *parts(typed, "IN_KG", UNIT, [("kg in one " + ", ".join(typed.IN_KG), "1, 0.45359237, 6.35029318")]),
    )  # fmt: skip


def _shares() -> list[ShownNumber]:
    written = [
        (f"{one.label} / stature, {Sex(sex).label}", f"{share.mean:.4f}, spread {share.sd:.4f}")
        for sex in Sex
        for one in MEASUREMENTS
        if (share := one.shares.get(sex))
    ]
    return parts(measurements, "MEASUREMENTS", ANSUR, written)


def setup_groups() -> tuple[Group, ...]:
    """Bars, bounds of what may be typed, and the other lifts of the back-load page."""
    presets = [
        (f"{name} bar: shaft; between the collars", f"{p.diameter_m * 1000:g} mm; {p.span_m:g} m"
         + ("" if p.bends else "; bending not counted"))
        for name, p in bar.BAR_PRESETS.items()
    ]  # fmt: skip
    bounds = [
        (key.replace("_rad", " (rad)").replace("_m", " (m)").replace("_", " "), f"{low:.3g} to {high:.3g}")
        for key, (low, high) in setups.BOUNDS.items()
    ]
    memory = "from memory", "usual shafts of 27 to 29 mm; a flexible bar is longer between the collars"
    return (
        Group("Bars", tuple(parts(bar, "BAR_PRESETS", memory, presets))),
        Group("Habits", tuple(_habits())),
        Group("What a setup may be", (*parts(setups, "BOUNDS", TYPING, bounds), *_sweep())),
    )


def _habit_words(key: str, value: float) -> str:
    return f"{value * 180.0 / pi:.3g}°" if key.endswith("_rad") else f"{value * 100.0:.3g} cm"


def _named(key: str) -> str:
    return key.rsplit("_", 1)[0].replace("_", " ")


def _habits() -> list[ShownNumber]:
    """Bounds of habits, what a class by eye stands for, errors of tape, marks and eye, and the refit's own numbers."""
    guess = "calibration", "usual in the gym; no source"
    bounds = [(f"{_named(key)}, may be", f"{_habit_words(key, low)} to {_habit_words(key, high)}")
              for key, (low, high) in habits.HABIT_BOUNDS.items()]  # fmt: skip
    in_cm = set(BarOverFoot)
    eye = [
        (
            f"{word.label} stands for; SD",
            ", ".join(_habit_words("_m" if word in in_cm else "_rad", v) for v in (s.value, s.sd)),
        )
        for word, s in own_posture.BY_EYE.items()
    ]
    lengths = ("stance", "heels", "hip_bar", "bar_ahead", "drift")
    tape = [(f"SD of {key} by tape", _habit_words("_m" if key in lengths else "_rad", sd))
            for key, sd in own_posture.TAPE_SD.items()]  # fmt: skip
    judged = [(f"SD of {key} judged by eye", _habit_words("_m" if key in lengths else "_rad", sd))
              for key, sd in own_posture.EYE_SD.items()]  # fmt: skip
    stills = [(f"SD of {key.replace('_', ' ')} on a still", _habit_words("_m" if key in lengths else "_rad", sd))
              for key, sd in own_posture.STILL_SD.items()]  # fmt: skip
    measured = [(f"SD of {words}", _habit_words(key, sd)) for key, (words, sd) in narrowing.MEASURED_BY.items()]
    hales = "from memory", "second-hand account of Hales, Johnson and Johnson 2009: 2.5 inches below the knee"
    return [
        *parts(habits, "HABIT_BOUNDS", TYPING, bounds),
        *parts(own_posture, "BY_EYE", guess, eye),
        *parts(own_posture, "TAPE_SD", guess, tape),
        *parts(own_posture, "EYE_SD", guess, judged),
        *parts(own_posture, "STILL_SD", guess, stills),
        *parts(narrowing, "MEASURED_BY", guess, measured),
        living(own_posture, "STEPS", "steps of the fit of a lifter's own posture", "", FINENESS),
        living(own_posture, "STEP_SD", "step of its slopes, in SD of the habit", "", FINENESS),
        living(own_posture, "TAPE_LEAVES", "weight of people's stance and turnout once measured", "", guess),
        living(own_posture, "TAPED_WITHIN", "stance and toes count as measured up to, times a tape's error", "", guess),
        living(lifter_postures, "LEAST_SESSIONS", "days in a style before its posture has a say in it", "", guess),
        living(agreement, "WITHIN_SD", "two people agree up to, in SD of their difference", "", CALIBRATED),
        living(agreement, "APART_DAYS", "and their entries are compared up to", "days", guess),
        living(agreement, "LEAST_LIFTERS", "lifters measured by two people before errors are judged", "", guess),
        living(knowing, "WORTH_M", "a measurement is asked for when it narrows half the range by", "m", guess),
        living(own_posture, "MISFIT_SD", "what was seen this many SD from the fit is asked about", "", CALIBRATED),
        living(narrowing, "STEP_SHARE", "step of an answer's slope, in SD of the habit", "", FINENESS),
        living(checks, "HALES_BELOW_M", "bar below the knee where it slows", "m", hales),
    ]


def _sweep() -> tuple[ShownNumber, ...]:
    return (
        living(stance_sweeps, "NARROWEST_M", "narrowest stance of a sweep", "m", TYPING),
        living(stance_sweeps, "WIDEST_TRIED_M", "widest stance tried in a sweep", "m", TYPING),
        living(pull, "WIDE_M", "an impossible posture is put down to the stance from", "m", TYPING),
        living(leverage_findings, "INNER_THIGH_NAMED", "inner thighs are named from this share of the hips", "",
               GEOMETRY),
        *parts(leverage_findings, "GAINS", GEOMETRY,
               [(f"least difference named: {q.same}", number(q.smallest)) for q in leverage_findings.GAINS]),
        *parts(leverage_findings, "DEMANDS", GEOMETRY,
               [(f"least share named: {q.same}", number(q.smallest)) for q in leverage_findings.DEMANDS]),
        *parts(pair, "HIPS", GEOMETRY, [("least hips-to-bar change in a heading", number(pair.HIPS.smallest, "m"))]),
        *parts(pair, "PULL", GEOMETRY, [("least pull difference in a heading", number(pair.PULL.smallest, "m"))]),
        living(pair, "SAID_FROM", "a change of work is told from this share", "", GEOMETRY),
        living(leverage_findings, "ALIKE_M", "stances nearer than this are one for the eye", "m", GEOMETRY),
        living(leverage_findings, "ALIKE_TIMES", "a range around zero up to this many times that is about the same", "",
               GEOMETRY),
        living(posture, "DEPTH_STEPS", "steps of the leg's depth where the bar touches it", "", FINENESS),
        living(path, "ROOT_STEPS", "steps of the root finder", "", FINENESS),
        living(path, "BELOW_M", "height below the knee over which the slope is taken", "m", FINENESS),
        living(squad, "CHUNK_POINTS", "points reckoned at once for a squad", "", FINENESS),
    )  # fmt: skip


def other_lift_rows() -> tuple[ShownNumber, ...]:
    """Leaned trunks of lifts that have no posture model."""
    source = "calibration", "guesses of usual technique: good to compare an athlete's own weeks, not lifts"
    written = [(f"{key.replace('-', ' ')}: {h.words}; place of the load on the trunk", number(h.load_place))
               for key, h in hinge.HINGES.items()]  # fmt: skip
    return tuple(parts(hinge, "HINGES", source, written))
