"""The closed vocabularies of the product, each term with the words people read; no other module lists them again.

Values are stored in the database and in files, so they never change. Words are marked for translation with `_`.
"""

from __future__ import annotations

from collections.abc import Iterator
from enum import EnumMeta, StrEnum, nonmember
from typing import Any, Self, cast


def _(text: str) -> str:
    """Mark `text` for translation and return it unchanged; the extraction tool looks for this name."""
    return text


class TermType(EnumMeta):
    """Class-level lists of a vocabulary: values, words and (value, words) pairs in the order of definition."""

    @property
    def values(cls) -> list[str]:
        """The stored values."""
        return [member.value for member in _members(cls)]

    @property
    def labels(cls) -> list[str]:
        """The words of each term."""
        return [member.label for member in _members(cls)]

    @property
    def choices(cls) -> list[tuple[str, str]]:
        """Pairs of stored value and words, as form fields and columns take them."""
        return [(member.value, member.label) for member in _members(cls)]


def _members(cls: EnumMeta) -> Iterator[Term]:
    return iter(cast("type[Term]", cls))


class Term(StrEnum, metaclass=TermType):
    """A stored value with its words: `Style("sumo").label`. An unknown value raises ValueError with the list."""

    do_not_call_in_templates = nonmember(True)  # a template engine calls what is callable; a class is
    label: str

    def __new__(cls, value: str, label: str = "") -> Self:
        member = str.__new__(cls, value)
        member._value_ = value
        member.label = label
        return member

    @classmethod
    def _missing_(cls, value: object) -> Any:
        raise ValueError(f"{value!r} is not one of {', '.join(cls.values)}")


class Role(Term):
    OWNER = "owner", _("club owner")
    COACH = "coach", _("coach")
    STAFF = "staff", _("gym staff")
    ATHLETE = "athlete", _("athlete")


class Sex(Term):
    FEMALE = "f", _("women's tables")
    MALE = "m", _("men's tables")


class Pronoun(Term):
    """How sentences speak of a lifter; never guessed from the tables a body is filled from."""

    THEY = "they", _("they, them, their")
    SHE = "she", _("she, her, her")
    HE = "he", _("he, him, his")

    @property
    def forms(self) -> tuple[str, str, str]:
        """Subject, object and possessive: ("she", "her", "her")."""
        subject, object_, possessive = self.label.split(", ")
        return subject, object_, possessive


ADULT_AGE = 18  # years; below it training and pages are those of a minor


class Standing(Term):
    BEGINNER = "beginner", _("beginner")
    TRAINED = "trained", _("trained")
    RETURNING = "returning", _("returning")
    UNDER_18 = "under-18", _("under 18")


class WeightUnit(Term):
    KG = "kg", "kg"
    LB = "lb", "lb"


class LengthUnit(Term):
    CM = "cm", "cm"
    INCH = "in", "in"


class Lift(Term):
    DEADLIFT = "deadlift", _("deadlift")
    SQUAT = "squat", _("back squat")
    FRONT_SQUAT = "front-squat", _("front squat")
    ROMANIAN = "romanian", _("Romanian deadlift (soft-knee hinge)")
    GOOD_MORNING = "good-morning", _("good morning")
    BACK_RAISE = "back-raise", _("back raise")
    ROW = "row", _("row")
    BENCH = "bench", _("bench press")
    OTHER = "other", _("other")


class Style(Term):
    CONVENTIONAL = "conventional", _("conventional")
    SUMO = "sumo", _("sumo")
    WIDE_SUMO = "wide-sumo", _("wide sumo")


class Shape(Term):
    UNSEEN = "unseen", _("not noted")
    FLAT = "flat", _("flat")
    ROUNDED_BEFORE = "rounded-before", _("rounded before the pull")
    ROUNDED_DURING = "rounded-during", _("rounded during the pull")


class ShapeRegion(Term):
    UPPER = "upper", _("upper back")
    LOWER = "lower", _("lower back")


class BarKind(Term):
    UNKNOWN = "unknown", _("not noted")
    STIFF = "stiff", _("stiff bar, 29 mm")
    TRAINING = "training", _("training bar, 28 mm")
    FLEXIBLE = "flexible", _("flexible deadlift bar, 27 mm")
    SQUAT_BAR = "squat-bar", _("squat bar")
    HEX_LOW = "hex-low", _("hex bar, low handles")
    HEX_HIGH = "hex-high", _("hex bar, high handles")
    OTHER = "other", _("other bar")


class Grip(Term):
    UNKNOWN = "unknown", _("not noted")
    DOUBLE_OVERHAND = "double-overhand", _("double overhand")
    MIXED = "mixed", _("mixed")
    HOOK = "hook", _("hook")


class Start(Term):
    FLOOR = "floor", _("floor")
    BLOCK = "block", _("block or pins")
    DEFICIT = "deficit", _("deficit")


class Result(Term):
    MADE = "made", _("made")
    MISSED = "missed", _("missed")
    NO_LIFT = "no-lift", _("no lift (rule)")
    NOT_TRIED = "not-tried", _("not tried")
    STOPPED_PAIN = "stopped-pain", _("stopped (pain)")


class MissPosition(Term):
    FLOOR = "floor", _("did not leave the floor")
    MID_SHIN = "mid-shin", _("mid-shin")
    BELOW_KNEE = "below-knee", _("just below the knee")
    AT_KNEE = "at-knee", _("at the knee")
    MID_THIGH = "mid-thigh", _("mid-thigh")
    LOCKOUT = "lockout", _("lockout")


class GaveWay(Term):
    NEVER_MOVED = "never-moved", _("bar never moved")
    SLOWED_STOPPED = "slowed-stopped", _("slowed and stopped, back flat")
    BACK_ROUNDED = "back-rounded", _("back rounded")
    STRAIGHT_BUT_ROUND = "straight-but-round", _("hips and knees straight, back still round")
    HIPS_SHOT_UP = "hips-shot-up", _("hips shot up")
    GRIP_OPENED = "grip-opened", _("grip opened")
    LOST_BALANCE = "lost-balance", _("lost balance")
    FEET_MOVED = "feet-moved", _("knees or feet moved")


class RuleReason(Term):
    DOWNWARD_MOVEMENT = "downward-movement", _("bar moved down before the end (hitch)")
    NOT_ERECT = "not-erect", _("not erect, shoulders not back")
    KNEES_NOT_LOCKED = "knees-not-locked", _("knees not locked")
    SUPPORTED_ON_THIGHS = "supported-on-thighs", _("bar supported on the thighs")
    STEPPED = "stepped", _("stepped or moved the feet")
    EARLY_LOWER = "early-lower", _("lowered before the signal")
    UNCONTROLLED_RETURN = "uncontrolled-return", _("bar not returned under control")
    OTHER_RULE = "other-rule", _("another rule")


class InNewStyle(Term):
    YES = "yes", _("yes")
    PARTLY = "partly", _("partly")
    NO = "no", _("no")


class HealthKind(Term):
    PAIN = "pain", _("pain")
    INJURY = "injury", _("injury")
    SURGERY = "surgery", _("surgery")
    CLEARANCE = "clearance", _("clearance by a licensed professional")
    OTHER = "other", _("other")


class BodySite(Term):
    LOWER_BACK = "lower-back", _("lower back")
    UPPER_BACK = "upper-back", _("upper back")
    HIP = "hip", _("hip")
    GROIN = "groin", _("groin")
    GLUTE = "glute", _("glute")
    HAMSTRING = "hamstring", _("hamstring")
    KNEE = "knee", _("knee")
    ANKLE = "ankle", _("ankle or foot")
    SHOULDER = "shoulder", _("shoulder")
    ARM = "arm", _("elbow, arm or hand")
    OTHER = "other", _("elsewhere")


class TrialStatus(Term):
    RUNNING = "running", _("running")
    DECIDED = "decided", _("decided")
    STOPPED = "stopped", _("stopped")


class Verdict(Term):
    ADOPT = "adopt", _("adopt")
    EXTEND = "extend", _("extend")
    DROP = "drop", _("drop")


class SuccessMeasure(Term):
    MORE_WEIGHT = "more-weight", _("more weight")
    MORE_WORK = "more-work", _("more hard work without soreness")


class BarOverFoot(Term):
    """The part of the foot that the bar stands over at the start, seen from the side."""

    HEEL_SIDE = "heel-side", _("heel side of the middle")
    MIDDLE = "middle", _("middle of the foot")
    TOE_SIDE = "toe-side", _("toe side of the middle")


class Arms(Term):
    """The arms just before the bar leaves the floor, seen from the side."""

    VERTICAL = "vertical", _("vertical")
    AHEAD = "ahead", _("shoulders ahead of the bar")


class BackShape(Term):
    """The back as the bar leaves the floor, seen from the side."""

    FLAT = "flat", _("flat")
    SLIGHT = "slight", _("slightly rounded")
    ROUNDED = "rounded", _("rounded")


class Knees(Term):
    """When the knees straighten against the hips, as the bar passes the knee."""

    EARLY = "early", _("early, before the hips")
    TOGETHER = "together", _("with the hips")
    LATE = "late", _("late, after the hips")


class PostureSource(Term):
    """How stance and toes were taken."""

    TAPE = "tape", _("by tape")
    EYE = "eye", _("by eye")
    STILL = "still", _("from a still picture")


class Privacy(Term):
    """Kinds of private data; a reader needs the right to each kind that a text or column carries."""

    HEALTH = "health", _("health")
    MASS = "mass", _("body mass")


STYLE_UNNOTED = _("style not noted")

# Terms inside a sentence, where they differ from the words of the list above.
PLACE_WORDS: dict[str, str] = {
    MissPosition.FLOOR: _("at the floor"),
    MissPosition.MID_SHIN: _("at mid-shin"),
    MissPosition.BELOW_KNEE: _("just below the knee"),
    MissPosition.AT_KNEE: _("at the knee"),
    MissPosition.MID_THIGH: _("at mid-thigh"),
    MissPosition.LOCKOUT: _("at lockout"),
}
SEEN_WORDS: dict[str, str] = {term.value: term.label for term in GaveWay} | {
    GaveWay.NEVER_MOVED.value: _("the bar never moved")
}
BAR_WORDS: dict[str, str] = {
    BarKind.UNKNOWN: _("bar not noted"),
    BarKind.STIFF: _("stiff bar"),
    BarKind.TRAINING: _("training bar"),
    BarKind.FLEXIBLE: _("flexible bar"),
    BarKind.SQUAT_BAR: BarKind.SQUAT_BAR.label,
    BarKind.HEX_LOW: BarKind.HEX_LOW.label,
    BarKind.HEX_HIGH: BarKind.HEX_HIGH.label,
    BarKind.OTHER: BarKind.OTHER.label,
}
