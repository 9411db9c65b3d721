"""What a length or mass can be: the usual range is taken as it is, the possible one is asked about, no other accepted.

Calibration: the usual range reaches about five spreads of ANSUR II (Gordon et al. 2014) beyond the averages of women
and men, widened downwards for teenagers; the possible range holds people of every build, from memory. The arm span
starts where the length of one arm ends, because one is often given for the other.
"""

from dataclasses import dataclass

from athletes.models.choices import MeasureKey as Key


@dataclass(frozen=True)
class Range:
    """Limits in cm (kg for body mass)."""

    usual: tuple[float, float]
    possible: tuple[float, float]

    def is_usual(self, value: float) -> bool:
        return self.usual[0] <= value <= self.usual[1]

    def is_possible(self, value: float) -> bool:
        return self.possible[0] <= value <= self.possible[1]


RANGES: dict[str, Range] = {
    Key.MASS: Range((30, 200), (15, 350)),
    Key.STATURE: Range((135, 215), (60, 260)),
    Key.SITTING_HEIGHT: Range((65, 112), (30, 135)),
    Key.ARM_SPAN: Range((130, 225), (96, 280)),
    Key.STANDING_GRIP_HEIGHT: Range((50, 100), (25, 125)),
    Key.ACROMIAL_HEIGHT: Range((105, 180), (45, 220)),
    Key.TROCHANTERION_HEIGHT: Range((60, 120), (25, 150)),
    Key.TIBIALE_HEIGHT: Range((32, 62), (15, 80)),
    Key.LATERAL_MALLEOLUS_HEIGHT: Range((4, 10.5), (2, 14)),
    Key.BIACROMIAL_BREADTH: Range((27, 50), (15, 60)),
    Key.HIP_BREADTH: Range((24, 55), (15, 75)),
    Key.FOOT_LENGTH: Range((19, 35), (12, 42)),
    Key.HAND_LENGTH: Range((14, 25), (8, 30)),
}
ARM_LENGTH = (45.0, 96.0)  # cm, one arm from shoulder to fingertip, with room; from memory
ARM_SHARE = (0.40, 0.48)  # of stature; an arm is about 0.43 to 0.46 of the height: common practice, no source
