"""Every body measurement, described once: words, limits, shares of stature, import headings, error and landmarks.

A new measurement is one entry here and, with a drawing, one in `how_to.py`.

Limits, calibration: the usual range reaches about five spreads of ANSUR II (Gordon et al. 2014) beyond the averages of
women and men, widened downwards for teenagers; the possible range holds people of every build, from memory. The arm
span starts where the length of one arm ends, because one is often given for the other.

Shares of stature: ANSUR II (Gordon et al. 2014, NATICK/TR-15/007, public domain; 4,082 men, 1,986 women), mean and
standard deviation of each person's length divided by their stature. Standing grip height is not in the survey: it is
acromial height less the arm to the centre of the grip, its spread from the survey's variances and covariances to first
order. Soldiers of 17 to 58: children and teenagers differ, so nothing is ever refused for its share, only asked about.

Error of one measurement: about 1 % of a length and less for stature, from memory, in the range that Perini et al. 2005
(Rev Bras Med Esporte 11:81-85) call acceptable.
"""

from __future__ import annotations

import functools
from dataclasses import dataclass
from enum import StrEnum

from athletes.schema.vocabulary import Privacy, Sex, _


class MeasureKey(StrEnum):
    """Names of the measurements that code asks for one by one; the list of all is `MEASUREMENTS`."""

    MASS = "mass"
    STATURE = "stature"
    SITTING_HEIGHT = "sitting_height"
    ARM_SPAN = "arm_span"
    STANDING_GRIP_HEIGHT = "standing_grip_height"
    ACROMIAL_HEIGHT = "acromial_height"
    TROCHANTERION_HEIGHT = "trochanterion_height"
    TIBIALE_HEIGHT = "tibiale_height"
    LATERAL_MALLEOLUS_HEIGHT = "lateral_malleolus_height"
    BIACROMIAL_BREADTH = "biacromial_breadth"
    HIP_BREADTH = "hip_breadth"
    FOOT_LENGTH = "foot_length"
    HAND_LENGTH = "hand_length"


Key = MeasureKey


@dataclass(frozen=True)
class Range:
    """Limits in cm (kg for body mass)."""

    usual: tuple[float, float]
    possible: tuple[float, float]

    def is_usual(self, value: float) -> bool:
        return self.usual[0] <= value <= self.usual[1]

    def is_possible(self, value: float) -> bool:
        return self.possible[0] <= value <= self.possible[1]


@dataclass(frozen=True)
class Share:
    """A share of stature: average over people and standard deviation between them, both without unit."""

    mean: float
    sd: float


@dataclass(frozen=True)
class SheetGroup:
    """A part of the measuring sheet: its heading and the sentence under it."""

    name: str
    heading: str
    text: str


@dataclass(frozen=True, eq=False)
class Measurement:
    """One measurement; lengths in cm, body mass in kg, `error_sd` in m (kg for body mass).

    `below` names the measurements that must be larger on any body. `shares` is empty where a share of stature says
    nothing. `model` tells whether the reference tables of the model have a row of this name.
    """

    key: str
    label: str
    group: str
    limits: Range
    columns: str
    error_sd: float
    shares: dict[str, Share]
    below: tuple[str, ...] = ()
    base: str = "cm"
    private: frozenset[Privacy] = frozenset()
    model: bool = True


YOUNG_KEEP_MONTHS = (
    3  # a growing body's measurements are stale after these, unless a club says otherwise; common practice
)
YOUNG_KEEP_SETTING = "squad.measure_months_minor"  # the club's or athlete's own number of months
REPEATS = (1, 2, 3)  # boxes of the sheet for one measurement
ARM_LENGTH = (45.0, 96.0)  # cm, one arm from shoulder to fingertip, with room; from memory
ARM_SHARE = (0.40, 0.48)  # of stature; an arm is about 0.43 to 0.46 of the height: common practice, no source

SHEET_GROUPS = (
    SheetGroup("lead", _("Four that lead"), _("These four already give a useful profile.")),
    SheetGroup("easy", _("Two easy ones"), ""),
    SheetGroup(
        "landmark",
        _("Bony points, optional"),
        _("Only if the athlete wants it: they find the point themselves, or you do with their consent."),
    ),
    SheetGroup(
        "mass",
        _("Body mass, optional"),
        _("Private: shown to the athlete and their coach only. Once is enough; leave it empty when in doubt."),
    ),
)


def _shares(male: tuple[float, float], female: tuple[float, float]) -> dict[str, Share]:
    return {Sex.MALE: Share(*male), Sex.FEMALE: Share(*female)}


# The sheet shows them by group; the order here is that of the stored choices.
MEASUREMENTS: tuple[Measurement, ...] = (
    Measurement(
        Key.MASS,
        _("body mass"),
        "mass",
        Range((30, 200), (15, 350)),
        "bodyweight body-weight bodywt body-wt bwt bw body-mass bodymass mass weigh-in weighin scale-weight "
        "lifter-weight körpergewicht koerpergewicht körpermasse eigengewicht poids-de-corps poids-corporel "
        "peso-corporal peso-corporeo peso-corpóreo peso-do-corpo lichaamsgewicht masa-ciała waga-ciała waga "
        "kroppsvikt kroppsvekt kropsvægt kehonpaino вес-тела собственный-вес 体重",
        0.5,
        {},
        base="kg",
        private=frozenset({Privacy.MASS}),
    ),
    Measurement(
        Key.STATURE,
        _("stature"),
        "lead",
        Range((135, 215), (60, 260)),
        "height ht stature body-height bodyheight größe groesse körpergröße koerpergroesse taille estatura altura "
        "talla altezza statura lengte lichaamslengte wzrost längd kroppslängd høyde højde pituus рост 身長 身高",
        0.004,
        {},
    ),
    Measurement(
        Key.SITTING_HEIGHT,
        _("sitting height"),
        "lead",
        Range((65, 112), (30, 135)),
        "sitting-height seated-height sitzhöhe sitzgröße taille-assise altura-sentado altezza-da-seduto zithoogte "
        "sitthöjd sittehøyde wysokość-siedzeniowa",
        0.005,
        _shares((0.5231, 0.0135), (0.5262, 0.0141)),
        below=(Key.STATURE,),
    ),
    Measurement(
        Key.ARM_SPAN,
        _("arm span"),
        "lead",
        Range((130, 225), (96, 280)),
        "span arm-span armspan wingspan wing-span reach fathom spannweite armspannweite envergure envergadura "
        "apertura-alare apertura-braccia apertura spanwijdte armspanwijdte rozpiętość rozpiętość-ramion vingbredd "
        "armspann armspenn armvidd размах размах-рук 指極 臂展",
        0.008,
        _shares((1.0330, 0.0274), (1.0195, 0.0292)),
    ),
    Measurement(
        Key.STANDING_GRIP_HEIGHT,
        _("standing grip height"),
        "lead",
        Range((50, 100), (25, 125)),
        "grip-height standing-grip-height dowel-height fist-height griffhöhe fausthöhe hauteur-de-prise",
        0.008,
        _shares((0.4416, 0.0123), (0.4444, 0.0131)),
        below=(Key.ACROMIAL_HEIGHT, Key.STATURE),
    ),
    Measurement(
        Key.ACROMIAL_HEIGHT,
        _("acromial height"),
        "landmark",
        Range((105, 180), (45, 220)),
        "acromial-height acromion-height shoulder-height schulterhöhe",
        0.007,
        _shares((0.8203, 0.0096), (0.8198, 0.0087)),
        below=(Key.STATURE,),
    ),
    Measurement(
        Key.TROCHANTERION_HEIGHT,
        _("trochanterion height"),
        "landmark",
        Range((60, 120), (25, 150)),
        "trochanterion-height trochanter-height",
        0.009,
        _shares((0.5128, 0.0152), (0.5190, 0.0144)),
        below=(Key.ACROMIAL_HEIGHT, Key.STATURE),
    ),
    Measurement(
        Key.TIBIALE_HEIGHT,
        _("tibiale height"),
        "landmark",
        Range((32, 62), (15, 80)),
        "tibiale-height",
        0.005,
        _shares((0.2665, 0.0081), (0.2687, 0.0084)),
        below=(Key.TROCHANTERION_HEIGHT,),
    ),
    Measurement(
        Key.LATERAL_MALLEOLUS_HEIGHT,
        _("lateral malleolus height"),
        "landmark",
        Range((4, 10.5), (2, 14)),
        "lateral-malleolus-height malleolus-height ankle-height",
        0.003,
        _shares((0.0415, 0.0029), (0.0385, 0.0028)),
        below=(Key.TIBIALE_HEIGHT,),
    ),
    Measurement(
        Key.BIACROMIAL_BREADTH,
        _("biacromial breadth"),
        "landmark",
        Range((27, 50), (15, 60)),
        "biacromial-breadth biacromial shoulder-breadth shoulder-width schulterbreite",
        0.005,
        _shares((0.2368, 0.0098), (0.2244, 0.0096)),
    ),
    Measurement(
        Key.HIP_BREADTH,
        _("hip breadth"),
        "landmark",
        Range((24, 55), (15, 75)),
        "hip-breadth hip-width hüftbreite",
        0.006,
        _shares((0.1970, 0.0129), (0.2174, 0.0153)),
    ),
    Measurement(
        Key.FOOT_LENGTH,
        _("foot length"),
        "easy",
        Range((19, 35), (12, 42)),
        "foot-length fußlänge longueur-du-pied",
        0.003,
        _shares((0.1544, 0.0052), (0.1513, 0.0053)),
    ),
    Measurement(
        Key.HAND_LENGTH,
        _("hand length"),
        "easy",
        Range((14, 25), (8, 30)),
        "hand-length handlänge longueur-de-la-main",
        0.003,
        _shares((0.1101, 0.0042), (0.1112, 0.0047)),
    ),
)


@functools.cache
def _by_key(measurements: tuple[Measurement, ...]) -> dict[str, Measurement]:
    return {str(one.key): one for one in measurements}


def measurement(key: str) -> Measurement:
    """The description of a measurement; KeyError for an unknown name."""
    known = _by_key(MEASUREMENTS)
    if key not in known:
        raise KeyError(f"{key!r} is none of {', '.join(known)}")
    return known[key]


def sheet_keys() -> tuple[str, ...]:
    """Names of all measurements in the order of the sheet."""
    return tuple(key for group in SHEET_GROUPS for key in keys_of_group(group.name))


def measure_choices() -> list[tuple[str, str]]:
    """Pairs of stored name and words."""
    return [(str(one.key), one.label) for one in MEASUREMENTS]


def measure_label(key: str) -> str:
    """The words of a measurement; KeyError for an unknown name."""
    return measurement(key).label


def keys_of_group(group: str) -> tuple[str, ...]:
    """Names of the measurements in one part of the sheet."""
    return tuple(one.key for one in MEASUREMENTS if one.group == group)


def pairs_below() -> tuple[tuple[str, str], ...]:
    """Pairs (smaller, larger) of measurements of which the first cannot reach the second on one body."""
    return tuple((one.key, larger) for one in MEASUREMENTS for larger in one.below)
