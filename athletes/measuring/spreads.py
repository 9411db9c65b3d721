"""Each length as a share of stature: the average and the spread between people, for plausibility only.

Source: ANSUR II (Gordon et al. 2014, NATICK/TR-15/007, public domain; 4,082 men, 1,986 women): mean and standard
deviation of each person's length divided by their stature. Standing grip height is not in the survey: it is acromial
height less the arm to the centre of the grip, its spread from the survey's variances and covariances to first order.
Soldiers of 17 to 58: children and teenagers differ, so nothing is ever refused for its share, only asked about.
"""

from dataclasses import dataclass

from athletes.models.choices import MeasureKey as Key
from athletes.models.choices import Sex


@dataclass(frozen=True)
class Share:
    """A share of stature: average over people and standard deviation between them, both without unit."""

    mean: float
    sd: float


SHARES: dict[str, dict[str, Share]] = {
    Sex.MALE: {
        Key.SITTING_HEIGHT: Share(0.5231, 0.0135),
        Key.ARM_SPAN: Share(1.0330, 0.0274),
        Key.STANDING_GRIP_HEIGHT: Share(0.4416, 0.0123),
        Key.ACROMIAL_HEIGHT: Share(0.8203, 0.0096),
        Key.TROCHANTERION_HEIGHT: Share(0.5128, 0.0152),
        Key.TIBIALE_HEIGHT: Share(0.2665, 0.0081),
        Key.LATERAL_MALLEOLUS_HEIGHT: Share(0.0415, 0.0029),
        Key.BIACROMIAL_BREADTH: Share(0.2368, 0.0098),
        Key.HIP_BREADTH: Share(0.1970, 0.0129),
        Key.FOOT_LENGTH: Share(0.1544, 0.0052),
        Key.HAND_LENGTH: Share(0.1101, 0.0042),
    },
    Sex.FEMALE: {
        Key.SITTING_HEIGHT: Share(0.5262, 0.0141),
        Key.ARM_SPAN: Share(1.0195, 0.0292),
        Key.STANDING_GRIP_HEIGHT: Share(0.4444, 0.0131),
        Key.ACROMIAL_HEIGHT: Share(0.8198, 0.0087),
        Key.TROCHANTERION_HEIGHT: Share(0.5190, 0.0144),
        Key.TIBIALE_HEIGHT: Share(0.2687, 0.0084),
        Key.LATERAL_MALLEOLUS_HEIGHT: Share(0.0385, 0.0028),
        Key.BIACROMIAL_BREADTH: Share(0.2244, 0.0096),
        Key.HIP_BREADTH: Share(0.2174, 0.0153),
        Key.FOOT_LENGTH: Share(0.1513, 0.0053),
        Key.HAND_LENGTH: Share(0.1112, 0.0047),
    },
}
