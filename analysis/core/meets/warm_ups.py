"""The warm-up ladder to an opener: shares of the opener, rounded to what can be loaded, with times."""

from __future__ import annotations

from analysis.core.records.estimates import WarmUp
from analysis.core.settings import DEFAULTS, Settings

STEPS = (("first", 5), ("second", 3), ("third", 2), ("fourth", 1), ("fifth", 1), ("last", 1))


def warm_up_ladder(opener_kg: float, settings: Settings = DEFAULTS, bar_kg: float = 20.0) -> tuple[WarmUp, ...]:
    """Loads, kg, rising to the last warm-up, with reps and minutes before the opener.

    Loads are rounded to 2.5 kg (the setting's step), never under the bar; steps that round to the same load
    are taken once.
    """
    step = settings["meet.step"]
    ladder: list[WarmUp] = []
    minutes = settings["warm.last_minutes"] + settings["warm.gap_minutes"] * (len(STEPS) - 1)
    for name, reps in STEPS:
        load = max(round(opener_kg * settings[f"warm.{name}"] / step) * step, bar_kg)
        if load < opener_kg and (not ladder or load > ladder[-1].load_kg):
            ladder.append(WarmUp(load, reps, load / opener_kg, minutes))
        minutes -= settings["warm.gap_minutes"]
    return tuple(ladder)
