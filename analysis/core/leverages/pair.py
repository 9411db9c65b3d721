"""What a second style changes for this body at lift-off, as messages: surely, unclear, or about the same."""

from __future__ import annotations

from dataclasses import dataclass

from analysis.core.leverages.findings import ALIKE_TIMES, Quantity, paired, stands_measured
from analysis.core.records.messages import Message, Unit, Value
from analysis.core.records.messages import Quantity as Said
from analysis.core.records.postures import Known, least_known
from analysis.core.records.pulls import Estimate, StyleReport
from analysis.core.records.wording import compared

HIPS = Quantity("hip_bar_distance_m", "farther", "closer", "", 0.005, is_length=True)
PULL = Quantity("range_of_motion_m", "longer", "shorter", "", 0.005, is_length=True)
TRUNK = Quantity("trunk_angle_deg", "more upright", "more bent", "", 1.0)
KNEES = "knee_demand_nm"
BACK = "trunk_moment_nm"
SAID_FROM = 0.03  # share below which a change of work is not worth a number


@dataclass(frozen=True, slots=True)
class RoundedPair:
    """One quantity of two styles as a page writes it: both ends rounded to `step`, the difference, how sure it is.

    `way` is -1 or +1 when the central 80 % of the paired draws lie on one side of zero and the shown ends differ,
    else 0; `unsure` says that a way of 0 comes from not knowing, not from the styles being alike.
    """

    first: float
    second: float
    difference: Estimate
    way: int
    unsure: bool

    @property
    def size(self) -> float:
        """How far the shown ends are apart."""
        return abs(self.second - self.first)


def rounded_pair(first: StyleReport, second: StyleReport, asked: Quantity, step: float) -> RoundedPair:
    """A quantity at lift-off in both styles, rounded to `step`, so that a difference adds up with its two ends."""
    change = paired(first, second, asked.key)
    ends = [_end(report, asked.key, step) for report in (first, second)]
    way = compared(change, asked.smallest)
    if ends[0] == ends[1]:
        way = 0
    unsure = way == 0 and max(-change.low, change.high) > ALIKE_TIMES * asked.smallest
    return RoundedPair(ends[0], ends[1], change, way, unsure)


def _end(report: StyleReport, key: str, step: float) -> float:
    """A quantity of a drawing in whole `step`s; the pull's length is that of its two heights as they are written."""
    if key == PULL.key:
        heights = report.pull["z_m"]
        return (round(float(heights[-1]) / step) - round(float(heights[0]) / step)) * step
    return round(float(report.draws[key][0]) / step) * step


def pair_heading(first: StyleReport, second: StyleReport, step: float) -> Message:
    """The difference in one line: the stance named, a length only when its 80 % range leaves zero on one side."""
    pull, hips = rounded_pair(first, second, PULL, step), rounded_pair(first, second, HIPS, step)
    setup = second.setup
    assert setup is not None
    values: dict[str, Value] = {
        "style": second.name if second.name != "your change" else setup.preset,
        "stance": Said(setup.stance_m, Unit.METRE),
        "pull": Said(pull.size, Unit.METRE),
        "pull_way": PULL.more if pull.way > 0 else PULL.less,
        "hips": Said(hips.size, Unit.METRE),
        "hips_way": HIPS.more if hips.way > 0 else HIPS.less,
    }
    sure = ("pull" if pull.way else "") + ("-hips" if hips.way else "")
    if sure == "pull":
        return Message("leverages-pull-unsure" if hips.unsure else "leverages-pull", values)
    if not sure:
        return Message("leverages-open" if pull.unsure or hips.unsure else "leverages-same", values)
    return Message(f"leverages-{sure.removeprefix('-')}", values)


def pair_ground(first: StyleReport, second: StyleReport, typed: bool) -> Message:
    """What the two drawings rest on, and what would narrow the difference most."""
    setup = second.setup
    assert setup is not None
    known = least_known((first.known, second.known))
    if known is Known.TAPE and not stands_measured(first, second):
        known = Known.HABITS  # something was seen, but not what tells the styles apart most
    if typed:
        return Message(
            "leverages-typed",
            {
                "stance": Said(setup.stance_m, Unit.METRE),
                "turnout": Said(setup.turnout_rad, Unit.RADIAN),
                "hands": Said(setup.hand_spacing_m, Unit.METRE),
            },
        )
    return Message({Known.HABITS: "leverages-habits", Known.TAPE: "leverages-tape"}.get(known, "leverages-stills"))


def pair_price(first: StyleReport, second: StyleReport) -> Message:
    """What the second style asks of legs and back against the first; statics on paper, never a forecast of kilos."""
    legs, back = (paired(first, second, key, ratio=True) for key in (KNEES, BACK))
    values: dict[str, Value] = {"legs": f"{1.0 + legs.value:.1f}", "back": Said(abs(back.value), Unit.SHARE)}
    sure = compared(legs, SAID_FROM)
    less_back = compared(back, 0.02) < 0
    if sure > 0:
        return Message("leverages-price-both" if less_back else "leverages-price-legs", values)
    return Message("leverages-price-back" if less_back else "leverages-price-open", values)


def closer_until(first: StyleReport, second: StyleReport) -> Message:
    """Where along the pull the second style keeps the hips closer to the bar: the finding of the hips' curve."""
    share = [i / 20.0 for i in range(21)]
    count = len(first.pull["u"]) - 1
    gaps = [
        float(second.pull[HIPS.key][round(s * count)] - first.pull[HIPS.key][round(s * count)]) < -HIPS.smallest
        for s in share
    ]
    values: dict[str, Value] = {"style": second.name if second.name != "your change" else "the change"}
    if not any(gaps):
        return Message("leverages-curve-never", values)
    last = max(i for i, closer in enumerate(gaps) if closer)
    knee = first.knee_index / count
    if not gaps[0]:
        return Message("leverages-curve-some", values)
    if share[last] >= 0.9:
        return Message("leverages-curve-all", values)
    return Message("leverages-curve-past-knee" if share[last] >= knee else "leverages-curve-to-knee", values)
