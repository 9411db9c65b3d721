"""Numbers of meet attempts, of the rules of a meet, and of points, classes and ages."""

from __future__ import annotations

from collections.abc import Iterator

from analysis.core.estimates import normal
from analysis.core.meets import day as meet_day
from analysis.core.meets import live, plans, scoring, tree
from analysis.core.meets import plans as warm_ups
from analysis.core.settings.meets import MEETS, WARM_UPS
from analysis.how_it_works.rows import FINENESS, NO_SOURCE, Group, ShownNumber, living, number, parts, settings_group

MEMORY = "from memory", "confirm against the federation's own table"
RULES = meet_day.MeetRules()


def meet_groups() -> tuple[Group, ...]:
    """Settings, fixed numbers, rules, points, classes and ages."""
    return (
        settings_group("Meet attempts", MEETS),
        settings_group("Warm-ups", WARM_UPS),
        Group("Fixed numbers of a plan", _plans()),
        Group("Rules of a meet, editable at each meet", tuple(_rules())),
        Group("Points", tuple(_points())),
        Group("Classes and ages", tuple(_classes())),
    )


def _plans() -> tuple[ShownNumber, ...]:
    steps = [(f"warm-up, {name} step", f"{reps} reps") for name, reps in warm_ups.STEPS]
    return (
        living(plans, "LOWEST", "lightest load looked at / the day's middle", "", FINENESS),
        living(plans, "HIGHEST", "heaviest load looked at / the day's middle", "", FINENESS),
        living(plans, "SURPRISE", "results less likely than this say that the estimate is wrong", "", FINENESS),
        living(plans, "BOMB_SHARE", "safer plan: no lift at all counts as this share of the middle", "", NO_SOURCE),
        living(live, "TAIL", "degrees of freedom of a warm-up's error", "", FINENESS),
        living(live, "HARD_REPS_LEFT", "reps left up to which a warm-up is read with the smaller error", "", NO_SOURCE),
        living(live, "LAST_STEPS", "loads tried for the last attempt, steps above the least allowed", "", FINENESS),
        living(tree, "ATTEMPTS", "attempts of one lift", "", MEMORY),
        living(tree, "NO_CHANCE", "branches less likely than this are not followed", "", FINENESS),
        *parts(warm_ups, "STEPS", NO_SOURCE, steps),
        *parts(normal, "_ERF", ("published", "Abramowitz and Stegun 1964, formula 7.1.26"),
               [("normal distribution, coefficients", number(normal._ERF))]),
    )  # fmt: skip


def _rules() -> Iterator[ShownNumber]:
    where = f"{meet_day.__name__}.MeetRules"
    rows = [
        ("steps", f"{RULES.step_kg:g} kg"),
        ("time to hand in the next attempt", f"{RULES.seconds_to_declare} s"),
        ("time to start once the bar is loaded", f"{RULES.seconds_to_start} s"),
        ("opener may change until before the round", f"{RULES.opener_change_minutes} min"),
        *((f"changes of the three attempts, {lift}", number(count)) for lift, count in RULES.changes.items()),
    ]
    for label, value in rows:
        yield ShownNumber(label, value, "from memory", RULES.source, where)


def _kind(source: str) -> tuple[str, str]:
    return ("from memory" if "from memory" in source else "published", source)


def _long(values: tuple[float, ...]) -> str:
    return ", ".join(f"{value:.10g}" for value in values)


def _points() -> Iterator[ShownNumber]:
    sexes = {"m": "men", "f": "women"}
    for (sex, kit, event), table in scoring.IPF_GL.items():
        yield from parts(scoring, "IPF_GL", _kind(table.source),
                         [(f"IPF GL, {sexes[sex]}, {kit}, {event}: A, B, C", _long(table.values))])  # fmt: skip
    for name, label in (("DOTS", "DOTS, highest power first"), ("WILKS", "Wilks 1994, lowest power first")):
        for sex, table in getattr(scoring, name).items():
            yield from parts(scoring, name, _kind(table.source), [(f"{label}, {sexes[sex]}", _long(table.values))])
    yield living(scoring, "GL_LEAST_MASS_KG", "IPF GL gives no points below", "kg", MEMORY)
    for sex, (low, high) in scoring.DOTS_MASS_KG.items():
        yield from parts(scoring, "DOTS_MASS_KG", MEMORY,
                         [(f"DOTS: body mass held inside, {sexes[sex]}", f"{low:g} to {high:g} kg")])  # fmt: skip


def _classes() -> Iterator[ShownNumber]:
    limits = "published", "IPF classes since 2011; held against open meet results"
    yield living(scoring, "CLASSES_M", "upper limits, men", "kg", limits)
    yield living(scoring, "CLASSES_F", "upper limits, women, since 2021", "kg", MEMORY)
    yield living(scoring, "CLASSES_F_2011", "upper limits, women, 2011 to 2020", "kg", limits)
    ages = [(f"Foster, age {age}", f"{value:.2f}") for age, value in scoring.FOSTER.items()]
    yield from parts(scoring, "FOSTER", MEMORY, ages)
    older = [(f"McCulloch, age {age}", f"{value:.3f}") for age, value in scoring.MCCULLOCH.items()]
    yield from parts(scoring, "MCCULLOCH", MEMORY, older)
