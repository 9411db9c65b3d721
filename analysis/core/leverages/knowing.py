"""What a comparison of two styles knows: how well hips to bar is told apart, from what, and what would tell more."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass

from analysis.core.leverages.findings import STYLE_WORDS, paired
from analysis.core.leverages.narrowing import Narrowing, narrowing
from analysis.core.records.bodies import BodyInput
from analysis.core.records.postures import Known, least_known
from analysis.core.records.pulls import SetupInput, StyleReport

HALF_OF_SD = 1.2816  # half the central 80 % of a normal spread, in standard deviations
WORTH_M = 0.003  # half range by which a measurement has to narrow the answer to be asked for
# what a coach enters by tape and eye; the gap at the shin and the way of the bar take a still
ENTERED = ("stance_m", "turnout_rad", "arm_ahead_rad", "bar_ahead_m", "spinal_flexion_rad", "lead_rad")
FROM_WORDS = {
    Known.HABITS: "from people’s habits",
    Known.TAPE: "from tape and eye",
    Known.STILLS: "from stills",
}

STILLS_NEXT = "Narrows it most: a still of each style at lift-off, from the side."


@dataclass(frozen=True, slots=True)
class Knowing:
    """Hips to bar of the second style less the first: half its central 80 % (m), what it rests on, what to see next.

    `ask` is the one habit by tape or eye that would narrow it most, None where nothing would by WORTH_M; `then_m` the
    half range after it.
    """

    first: str
    second: str
    half_m: float
    known: Known
    ask: Narrowing | None
    then_m: float


def knowing(body: BodyInput, first: StyleReport, second: StyleReport, asked: Sequence[SetupInput]) -> Knowing:
    """What is known of `second` against `first`, which were drawn from `asked` in that order; CoreError as there."""
    change = paired(first, second, "hip_bar_distance_m")
    half = (change.high - change.low) / 2.0
    best = next(one for one in narrowing(body, asked) if one.habit in ENTERED)
    gone = HALF_OF_SD**2 * (best.before**2 - best.after**2)  # what the body adds stays
    then = math.sqrt(max(half**2 - gone, 0.0))
    return Knowing(
        first=first.name,
        second=second.name,
        half_m=half,
        known=least_known((first.known, second.known)),
        ask=best if half - then >= WORTH_M else None,
        then_m=then,
    )


def knowing_words(found: Knowing, length: Callable[[float], str]) -> tuple[str, ...]:
    """How well it is known and from what; then, where something would narrow it, the one thing to see next."""
    first, second = (STYLE_WORDS.get(name, name) for name in (found.first, found.second))
    known = f"Hips to bar, {second} against {first}: known to ±{length(found.half_m)}, {FROM_WORDS[found.known]}."
    if found.ask is None:
        return (known,) if found.known is Known.STILLS else (known, STILLS_NEXT)
    style = STYLE_WORDS.get(found.ask.style, found.ask.style)
    then = f" (then ±{length(found.then_m)})" if length(found.then_m) != length(found.half_m) else ""
    return known, f"Narrows it most: {found.ask.words}, in {style}{then}."
