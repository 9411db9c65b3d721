"""How each measure is taken and what its drawing shows.

Postures and landmarks follow the survey whose tables fill what is missing (ANSUR II: Gordon et al. 2014,
NATICK/TR-15/007) and the ISAK handbook, both from memory, put into words for a tape, a dowel and a book. Drawings are
our own: a body of 260 units on ground at 300, its points at the survey's average shares of stature.
"""

from dataclasses import dataclass

from athletes.schema.measurements import MeasureKey as Key
from athletes.schema.measurements import measure_label


@dataclass(frozen=True)
class HowTo:
    """One measure: its drawing (`picture` and what is drawn over it) and the words beside it."""

    key: str
    tool: str
    posture: str
    steps: tuple[str, ...]
    mistake: str
    picture: str
    lines: tuple[tuple[int, int, int, int], ...] = ()
    points: tuple[tuple[int, int], ...] = ()
    caution: str = ""

    @property
    def label(self) -> str:
        return measure_label(self.key)

    @property
    def picture_template(self) -> str:
        return f"howto/{self.picture}.html"


FIND_IT = "The athlete finds it on themselves, or you do with their consent; under 18 with a second adult present."

HOW_TO: tuple[HowTo, ...] = (
    HowTo(
        Key.STATURE,
        "A tape fixed upright to a wall, a hardback book.",
        "Barefoot, heels together against the wall, seat and upper back touching it, eyes straight ahead.",
        (
            "Ask for a deep breath in, held.",
            "Slide the book down the wall, spine on the head, until it presses the hair flat.",
            "Read the tape at the book's lower edge, to half a centimetre.",
            "Let the athlete step away and measure once more.",
        ),
        "Shoes, thick hair, chin lifted. 1.80 typed in a cm box is asked about.",
        "standing",
        ((190, 300, 190, 40), (96, 40, 198, 40)),
        ((120, 40),),
    ),
    HowTo(
        Key.SITTING_HEIGHT,
        "A hard flat box or bench against the wall, tape, book.",
        "Sitting tall at the very back of the box, thighs level, feet supported, hands on the thighs, eyes ahead.",
        (
            "Measure the height of the box first.",
            "Deep breath in; the book comes down on the head as for stature.",
            "Read from the floor, then take the height of the box away.",
        ),
        "A soft bench, a rounded back, the height of the box forgotten.",
        "sitting",
        ((196, 230, 196, 92), (100, 92, 204, 92), (100, 230, 204, 230)),
    ),
    HowTo(
        Key.ARM_SPAN,
        "A wall and a tape, two small strips of tape for the wall.",
        "Back to the wall, arms straight out at shoulder height, palms forward, stretched as wide as they go.",
        (
            "Mark where the longest finger of each hand ends.",
            "Measure from mark to mark.",
        ),
        "Giving the length of one arm: the span is about as long as the athlete is tall. Arms that droop read short.",
        "arms-out",
        ((-12, 66, 252, 66), (-12, 58, -12, 100), (252, 58, 252, 100)),
    ),
    HowTo(
        Key.STANDING_GRIP_HEIGHT,
        "A dowel or broomstick, tape.",
        "Barefoot, upright, shoulders loose, arms hanging straight, the dowel in both closed fists against the thighs.",
        (
            "See that the dowel is level.",
            "Measure from the floor to the middle of the dowel at both ends.",
            "Type the mean of both ends; shake the arms out and measure once more.",
        ),
        "Shrugged shoulders or bent elbows: both make the arm look shorter. This one number places the bar at lockout.",
        "standing",
        ((60, 186, 180, 186), (200, 300, 200, 186)),
        ((78, 186), (162, 186)),
    ),
    HowTo(
        Key.FOOT_LENGTH,
        "A wall, a book, tape.",
        "Barefoot, heel against the wall, weight on both feet.",
        ("Book upright against the longest toe.", "Measure from the wall to the book."),
        "Measuring the shoe. A shoe size is not a length.",
        "foot",
        ((30, 276, 206, 276), (30, 226, 30, 284), (206, 226, 206, 284)),
    ),
    HowTo(
        Key.HAND_LENGTH,
        "Ruler or tape.",
        "Palm up, fingers together and straight.",
        ("From the wrist crease nearest the hand to the tip of the middle finger.",),
        "Starting at the bone of the wrist or leaving out the finger's tip.",
        "hand",
        ((196, 262, 196, 74), (100, 262, 204, 262), (100, 74, 204, 74)),
    ),
    HowTo(
        Key.ACROMIAL_HEIGHT,
        "Tape or a dowel with marks, something level.",
        "Standing as for stature, arms hanging.",
        (
            "Run a finger along the collar bone outwards to the flat bone on top of the shoulder.",
            "Its outermost edge is the point. Measure from the floor straight up to it.",
        ),
        "Taking the round of the muscle for the bone: that is two to three centimetres lower.",
        "standing",
        ((200, 300, 200, 87), (151, 87, 208, 87)),
        ((151, 87),),
        FIND_IT,
    ),
    HowTo(
        Key.TROCHANTERION_HEIGHT,
        "Tape, something level.",
        "Standing, weight on both feet.",
        (
            "Hand flat on the side of the hip; swing that leg a little: a knob of bone moves under the hand.",
            "The top of that knob is the point. Measure from the floor straight up to it.",
        ),
        "The crest of the hip bone is another bone, a hand's breadth higher.",
        "standing",
        ((200, 300, 200, 167), (147, 167, 208, 167)),
        ((147, 167),),
        "Best found by the athlete themselves, through clothes. " + FIND_IT,
    ),
    HowTo(
        Key.TIBIALE_HEIGHT,
        "Tape, something level.",
        "Find it sitting with the knee bent, measure it standing.",
        (
            "On the outer side of the bent knee feel the dent between thigh bone and shin bone.",
            "The upper edge of the shin bone just below the dent is the point; mark it and stand up.",
            "Measure from the floor straight up to the mark.",
        ),
        "Taking the middle of the kneecap: that is two centimetres higher.",
        "standing",
        ((200, 300, 200, 231), (142, 231, 208, 231)),
        ((142, 231),),
        FIND_IT,
    ),
    HowTo(
        Key.LATERAL_MALLEOLUS_HEIGHT,
        "A small ruler.",
        "Standing barefoot, weight on both feet.",
        ("The outer ankle bone: the point that stands out furthest.", "Measure from the floor straight up to it."),
        "The inner ankle bone is higher.",
        "standing",
        ((200, 300, 200, 289), (139, 289, 208, 289)),
        ((139, 289),),
        FIND_IT,
    ),
    HowTo(
        Key.BIACROMIAL_BREADTH,
        "Two books and a tape, or a large calliper.",
        "Standing loose, arms hanging, shoulders neither pulled back nor rounded.",
        (
            "From behind, find the outer edge of the flat bone on top of each shoulder.",
            "Hold a book upright against each and measure between the books.",
        ),
        "Measuring over the muscle: that is a fifth too wide.",
        "standing",
        ((89, 62, 151, 62), (89, 54, 89, 94), (151, 54, 151, 94)),
        ((89, 87), (151, 87)),
        FIND_IT,
    ),
    HowTo(
        Key.HIP_BREADTH,
        "Two books and a tape, or a large calliper.",
        "Standing, feet together.",
        ("A book upright against each side where the hips are widest.", "Measure between the books, through clothes."),
        "Pressing hard.",
        "standing",
        ((93, 160, 147, 160), (93, 150, 93, 172), (147, 150, 147, 172)),
        (),
        "Best held by the athlete themselves. " + FIND_IT,
    ),
    HowTo(
        Key.MASS,
        "A scale on hard ground.",
        "Light clothes, no shoes, at about the same time of day.",
        ("Once, in private. Only the number is needed, only when the athlete is at ease with it.",),
        "Reading it out, comparing it, remarking on it.",
        "scale",
        (),
        (),
        "Body mass is private: athlete and coach only. Nothing here sets a goal for it. Somebody who is troubled by "
        "weighing, or weighs often, leaves it out and is offered a talk with a licensed professional.",
    ),
)

OVERVIEW = (
    (151, 87, ("acromion: outer edge", "on top of the shoulder")),
    (147, 167, ("trochanterion: knob", "at the side of the hip")),
    (142, 231, ("tibiale: upper outer", "edge of the shin bone")),
    (139, 289, ("malleolus:", "outer ankle bone")),
)
