"""The weak-link report in words: chances with numbers, options of the trade, cautions; never a bare verdict."""

from __future__ import annotations

from collections.abc import Sequence

from analysis.core.records.messages import Message, Words, as_message
from analysis.core.records.terms import PLACE_WORDS, in_ten
from analysis.core.records.weak_link import TrainingOption

LIKELY, LEANING = 0.65, 0.55  # chances from which these words are used, here as everywhere
SUREST = 0.9  # told at most: simulated chances over 0.9 were right 0.92 to 0.98 of the time, real ones are unknown

HONESTY = (
    "No published study sorts missed pulls by joint: this is a model plus common practice, "
    "tested on simulated lifters only."
)
LINK_WORDS = {"hips": "the hips", "legs": "the legs", "back": "the back", "grip": "the grip"}
ROUND_LOCKOUT = "Lockout misses, back still round: back or start position."
CONFLICT = "Coaches read a floor miss as legs. The model says hips or back. Nobody has measured it."
NOTHING_LOGGED = (
    "Nothing logged yet. A few heavy sets with RPE, and where the bar was slowest, are what this page reads."
)
BEGINNER = "Learning the lift comes first: no weak link is read from a beginner's log."
RETURNING = (
    "A new baseline is being set after the break: old bests are not used, and no weak link is read yet. "
    "Clearance from a licensed professional comes first where pain or injury caused the break."
)
_OPTIONS = {
    "hips": ("Romanian deadlift or good morning, 3-4 sets of 5-8", "hip thrust or back raise, 3 sets of 8-12"),
    "legs": ("front squat or pause squat, 3-4 sets of 3-6", "5 cm deficit pull at 70-80 %, 3-4 sets of 3-5"),
    "back": ("paused pull below the knee at 70-80 %, 3-4 sets of 3", "rows and back raises, 3-4 sets of 8-12"),
    "grip": ("hold the last warm-up and the top set 3-10 s at lockout", "holds of 10-20 s at 80-95 %, 2-3 times"),
}
TEST_WORDS = {
    "block": "a triple at RPE 8 from blocks of {block:.0f} cm, bar just below the knee",
    "deficit": "a triple at RPE 8 from a 5 cm deficit",
    "front-squat": "a front squat triple at RPE 8, hips level with knees",
    "straps": "a triple at RPE 8 with straps",
    "bar": "a triple at RPE 8 on the {bar} bar",
    "paused": "a triple at RPE 8 paused just below the knee",
}
CAUTIONS = ("Pain stops a test and goes to a licensed professional; heavy pulls with a competent person present.",)
MINOR_CAUTION = "Under 18: no maximal singles and no straining test; the coach and a guardian decide."


def chance_words(link: str, chance: float) -> str:
    """A link's chance in words with the number.

    Links are at most "likely", whatever the chance, until the misses of real lifters have been predicted.
    """
    how = "likely " if chance >= LIKELY else "leaning to " if chance >= LEANING else ""
    return f"{how}{LINK_WORDS[link]} ({tenths(chance)})"


def tenths(chance: float) -> str:
    """A chance as "about 7 in 10", never surer than 9 in 10."""
    return in_ten(min(chance, SUREST))


def headline_named(place: str, link: str) -> str:
    """The first sentence when a link is named; `place` is where the misses stop, "" when that is not clear."""
    where = f"Stops {PLACE_WORDS[place]}" if place else "Limits the pull"
    return f"{where}: {link} likely."


def headline_slipped(opened: int, all_of_them: bool) -> str:
    """The first sentence when the hands are named."""
    misses = f"All {opened} misses" if all_of_them else f"{opened} misses"
    return f"{misses}: the bar slipped. Grip likely."


def headline_suspect(misses: int, link: str) -> str:
    """The first sentence after one or two misses: who is looked at first, and no chance."""
    return f"{_number(misses)}: {LINK_WORDS[link]} {'are' if link in ('hips', 'legs') else 'is'} the first suspect."


def _number(misses: int) -> str:
    return {1: "One miss", 2: "Two misses"}.get(misses, f"{misses} misses")


def not_enough_headline(why: Sequence[Words]) -> Words:
    """The first sentence while no link is named."""
    if not why:
        return "Not enough yet to name a link."
    return Message("weak.not-enough-for", {"why": as_message(why[0])})


def training_options(links: tuple[str, ...]) -> tuple[TrainingOption, ...]:
    """What the trade usually trains for each limiter, in the order given."""
    return tuple(TrainingOption(link, text) for link in links for text in _OPTIONS[link])
