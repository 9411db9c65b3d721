"""The sheet of a test day: style order alternated, warm-ups, rests, an RPE cap and two misses to stop."""

from __future__ import annotations

from collections.abc import Mapping

from analysis.core.records.weak_link import TestDaySet, TestDaySheet

WARM_UPS = ((0.4, 5), (0.55, 3), (0.7, 2))  # share of the running best, reps; common practice, no source
TOP_SHARE = {1: 0.9, 2: 0.87, 3: 0.84, 4: 0.82, 5: 0.8}  # at about RPE 8; common practice, no source
BETWEEN_STYLES = 15  # minutes; common practice, no source


def style_order(new_style: str, old_style: str, tests_before: int) -> tuple[str, ...]:
    """Both styles, the new one first on every other test day, so that fatigue falls on each in turn."""
    if not old_style:
        return (new_style,)
    return (new_style, old_style) if tests_before % 2 == 0 else (old_style, new_style)


def sheet_of_test_day(
    new_style: str, old_style: str, tests_before: int, bests_kg: Mapping[str, float], reps: int, rpe_cap: float
) -> TestDaySheet:
    """Sets of a test day; loads (kg, nearest 2.5) only for a style whose running best is known."""
    order = style_order(new_style, old_style, tests_before)
    sets = tuple(one for place, style in enumerate(order) for one in _ladder(style, bests_kg, reps, place, len(order)))
    return TestDaySheet(order, sets, _words(order, reps, rpe_cap), _rules(rpe_cap))


def _ladder(style: str, bests_kg: Mapping[str, float], reps: int, place: int, styles: int) -> list[TestDaySet]:
    steps = [*((share, count, 3, False) for share, count in WARM_UPS), (TOP_SHARE[reps], reps, 5, True)]
    made = []
    for share, count, rest, top in steps:
        last_of_style = top and place < styles - 1
        load = _bar_load(share * bests_kg[style]) if style in bests_kg else None
        made.append(TestDaySet(style, share, count, BETWEEN_STYLES if last_of_style else rest, top, load))
    return made


def _bar_load(kg: float) -> float:
    return max(round(kg / 2.5) * 2.5, 20.0)


def _words(order: tuple[str, ...], reps: int, rpe_cap: float) -> tuple[str, ...]:
    return (
        f"Today compares {' and '.join(order)}. A top set of {reps} that feels like RPE {rpe_cap:g}: not a record day.",
        "Same bar, same grip, straps or not the same in both, same start height.",
        "Say how it felt before you hear the load. Nothing is decided today.",
    )


def _rules(rpe_cap: float) -> tuple[str, ...]:
    return (
        f"Stop at RPE {rpe_cap:g}; add nothing after that.",
        "Two misses end the day.",
        "Pain stops the set and the day, and goes to a licensed professional.",
        "A competent person stands by for every top set.",
    )
