"""The measuring sheet: which measures, in which order, and which need a bony point to be found."""

from athletes.models.choices import MeasureKey as Key

LEAD = (Key.STATURE, Key.SITTING_HEIGHT, Key.ARM_SPAN, Key.STANDING_GRIP_HEIGHT)
LANDMARKS = (
    Key.ACROMIAL_HEIGHT,
    Key.TROCHANTERION_HEIGHT,
    Key.TIBIALE_HEIGHT,
    Key.LATERAL_MALLEOLUS_HEIGHT,
    Key.BIACROMIAL_BREADTH,
    Key.HIP_BREADTH,
)
EASY = (Key.FOOT_LENGTH, Key.HAND_LENGTH)
ORDER = (*LEAD, *EASY, *LANDMARKS, Key.MASS)
REPEATS = (1, 2, 3)
GROUPS = (
    ("Four that lead", "These four already give a useful profile.", LEAD),
    ("Two easy ones", "", EASY),
    (
        "Bony points, optional",
        "Only if the athlete wants it: they find the point themselves, or you do with their consent.",
        LANDMARKS,
    ),
    (
        "Body mass, optional",
        "Private: shown to the athlete and their coach only. Once is enough; leave it empty when in doubt.",
        (Key.MASS,),
    ),
)
