"""The stance sweep of one athlete: narrow to the widest reachable."""

from __future__ import annotations

from analysis.core.leverages.sweeps import stance_sweep
from analysis.core.records.pulls import Estimate, SetupInput, SweepReport
from analysis.core.records.wording import degrees, span_words
from analysis.figures.curves import Swept, sweep_card
from analysis.leverages.page import Page


def sweep_context(page: Page) -> dict[str, object]:
    """Figures over stance and what they say; CoreError when no stance is possible."""
    sweep = stance_sweep(page.body, SetupInput(own=page.own.get("conventional")), load_kg=page.load_kg)
    marks = {setup.preset: page.stance_of(setup) for setup in page.setups if setup.preset != "rounded"}
    asked = _quantities(page)
    return {
        "sweep": sweep,
        "narrowest": page.length(sweep.stances_m[0]),
        "widest": page.length(sweep.widest_m),
        "limits": [(page.length(limit.widest_m), limit.reason) for limit in page.limits],
        "figures": [
            sweep_card(s, sweep, page.units, marks, page.limits[0].widest_m, _caption(s, sweep, page)) for s in asked
        ],
    }


def _quantities(page: Page) -> list[Swept]:
    unit = page.units
    return [
        Swept("hip_bar_distance_m", "Hip-to-bar distance", unit.name, unit.of, 1),
        Swept("range_of_motion_m", "Length of the pull", unit.name, unit.of, 1),
        Swept("knee_flexion_deg", "Knee bend at lift-off", "degrees", float),
        Swept("trunk_angle_deg", "Trunk above the horizontal at lift-off", "degrees", float),
    ]


def _caption(asked: Swept, sweep: SweepReport, page: Page) -> str:
    """From the narrowest to the widest stance, and where the largest and smallest values stand."""
    estimates = sweep.values[asked.key]
    write = page.length if asked.key.endswith("_m") else degrees

    def words(estimate: Estimate) -> str:
        return f"{write(estimate.value)} ({span_words(estimate.low, estimate.high, write)})"

    first, last = sweep.stances_m[0], sweep.stances_m[-1]
    return (
        f"{asked.title} goes from {words(estimates[0])} at a stance of {page.length(first)} to {words(estimates[-1])} "
        f"at {page.length(last)}; in brackets the range that holds 8 in 10 bodies and habits that fit what is known."
    )
