"""The weak-link report in words: chances with numbers, options of the trade, cautions; never a bare verdict."""

from __future__ import annotations

from analysis.core.records.messages import Message, Value, Verbatim, Words, as_message
from analysis.core.records.terms import in_ten
from analysis.core.records.weak_link import LinkChance, TrainingOption

HONESTY = (
    "No published study sorts missed pulls by joint: this is a model plus common practice, "
    "tested on simulated lifters only."
)
LINK_WORDS = {"hips": "the hips", "legs": "the legs", "back": "the back", "grip": "the grip"}
STYLE_WORDS = {"conventional": "Conventional", "sumo": "Sumo", "wide-sumo": "Wide sumo"}
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
    """A link's chance in words with the number."""
    how = (
        "very probably" if chance >= 0.9 else "probably" if chance >= 0.7 else "perhaps" if chance >= 0.35 else "hardly"
    )
    return f"{how} {LINK_WORDS[link]} ({in_ten(chance)})"


def named_headline(style: str, leading: LinkChance, misses: int, sets: int) -> str:
    """The first sentence when a link is named."""
    rests_on = f"{_number(misses, 'miss', 'misses')} and {_number(sets, 'set', 'sets')}"
    return f"{STYLE_WORDS[style]}: {leading.words}, from {rests_on}."


def not_enough_headline(why: tuple[Words, ...], test: str) -> Message:
    """The first sentence while no link is named."""
    values: dict[str, Value] = {"test": Verbatim(test)}
    if not why:
        return Message("weak.not-enough", values)
    return Message("weak.not-enough-for", {**values, "why": as_message(why[0])})


def _number(count: int, one: str, many: str) -> str:
    return f"{count} {one if count == 1 else many}"


def training_options(links: tuple[str, ...]) -> tuple[TrainingOption, ...]:
    """What the trade usually trains for each limiter, in the order given."""
    return tuple(TrainingOption(link, text) for link in links for text in _OPTIONS[link])
