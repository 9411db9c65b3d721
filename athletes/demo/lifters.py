"""Who the invented lifters are: build, style, how strong, and the story their log tells. Nobody here is real."""

from dataclasses import dataclass


@dataclass(frozen=True)
class Lifter:
    """`sit`, `span`, `grip_z`: how many spreads the sitting height, arm span and standing grip height lie from the
    average share of stature (a long arm is a low grip height); `start_kg`, `end_kg`: best pull at both ends of the log.
    """

    name: str
    sex: str
    age: int
    standing: str
    stature: float
    mass: float
    sit: float
    span: float
    grip_z: float
    style: str
    start_kg: float
    end_kg: float
    weeks: int
    story: str = "steady"
    grip: str = "mixed"
    unit: str = "kg"
    landmarks: bool = False
    visits: int = 2


KILN_LANE = (
    Lifter(
        "Runa Ashby", "f", 27, "trained", 168.0, 66, -0.6, 0.9, -0.9, "conventional", 118, 137.5, 60, "trial", "hook"
    ),
    Lifter("Dorian Pike", "m", 31, "trained", 183.4, 92, -1.1, 0.2, 0.4, "conventional", 208, 232.5, 72, "back"),
    Lifter("Milo Trask", "m", 24, "trained", 175.2, 83, 0.1, -0.4, 0.2, "conventional", 182, 207.5, 56, "grip", "hook"),
    Lifter("Greta Sollis", "f", 34, "trained", 171.6, 75, -0.9, 0.6, -0.2, "wide-sumo", 132, 150, 64, "legs", visits=3),
    Lifter("Bram Undersee", "m", 45, "trained", 178.9, 98, 0.7, 0.3, 0.1, "conventional", 186, 190, 30, "thin"),
    Lifter("Sefa Marrow", "f", 22, "beginner", 160.3, 57, 0.4, -0.2, 0.3, "conventional", 55, 85, 14, "beginner"),
    Lifter(
        "Ivar Denholm", "m", 38, "returning", 180.7, 90, 0.0, 1.2, -1.0, "conventional", 200, 187.5, 70, "returning"
    ),
    Lifter("Lotte Brandreth", "f", 16, "under-18", 164.8, 59, 0.3, 0.4, -0.3, "conventional", 60, 87.5, 34, "minor"),
    Lifter(
        "Kester Voight", "m", 29, "trained", 172.4, 80, 1.4, -1.3, 1.1, "conventional", 178, 192.5, 52, "mixed-signs"
    ),
    Lifter(
        "Yara Fenwick", "f", 41, "trained", 165.9, 70, 1.0, -0.5, 0.7, "sumo", 120, 140, 74, "adopted", landmarks=True
    ),
    Lifter("Oskar Twyne", "m", 19, "trained", 186.2, 85, -0.4, 1.4, -1.3, "conventional", 160, 195, 48, unit="lb"),
    Lifter("Pia Rowanby", "f", 30, "beginner", 169.5, 64, 0.0, 0.0, 0.0, "conventional", 0, 0, 0, "new", visits=0),
    Lifter("Hedy Vane", "f", 33, "trained", 167.2, 71, 0.2, -0.1, 0.2, "conventional", 128, 151, 40, "meet-near"),
    Lifter("Ned Osgood", "m", 26, "trained", 176.4, 84, 0.6, 0.2, -0.1, "conventional", 160, 180, 50, "strong-squat"),
    Lifter("Rafe Lunn", "m", 35, "trained", 179.1, 87, -0.3, 0.3, -0.2, "conventional", 138, 152.5, 50, "back-link"),
    Lifter(
        "Finn Arkley", "m", 23, "trained", 181.5, 82, -0.2, 0.4, -0.3, "conventional", 145, 162.5, 44, "trial-short"
    ),
    Lifter(
        "Bea Lorimer", "f", 29, "trained", 163.8, 62, 0.5, -0.4, 0.4, "conventional", 108, 125, 46, "adopted-lately"
    ),
    Lifter("Cato Wren", "m", 37, "trained", 173.3, 90, 0.8, -0.6, 0.7, "conventional", 195, 207.5, 48, "due-adopt"),
    Lifter("Dagny Holt", "f", 25, "trained", 169.9, 67, 0.1, 0.1, 0.0, "conventional", 120, 134, 42, "due-level"),
    Lifter("Gus Tarrow", "m", 42, "trained", 177.7, 94, 0.3, 0.5, -0.4, "conventional", 172, 182.5, 44, "due-more"),
    Lifter("Juno Pell", "f", 21, "trained", 164.6, 58, -0.5, 0.8, -0.7, "conventional", 95, 111, 40, "due-back"),
    Lifter("Nell Orrin", "f", 39, "trained", 168.8, 66, 0.0, 0.0, 0.1, "sumo", 90, 100, 38, "pinch"),
    Lifter("Otis Farrow", "m", 30, "trained", 184.0, 99, 0.9, -1.9, 1.9, "conventional", 205, 225, 46, "both-styles"),
    Lifter("Mara Tolley", "f", 32, "trained", 166.5, 69, 0.4, -0.2, 0.3, "conventional", 130, 147.5, 40, "trial-pain"),
    Lifter("Leif Sands", "m", 47, "trained", 175.8, 88, 0.2, 0.0, 0.1, "conventional", 182, 197.5, 46, "sore-back"),
    Lifter("Petra Coyle", "f", 36, "trained", 162.9, 60, 0.3, -0.3, 0.2, "conventional", 104, 117.5, 38, "sore-hip"),
    Lifter("Kaia Morrow", "f", 28, "trained", 161.2, 59, -0.4, 1.3, -1.1, "conventional", 112, 128, 44, "round"),
    Lifter("Isko Brand", "m", 28, "trained", 178.2, 85, 0.0, 0.0, 0.0, "conventional", 0, 0, 0, "unmeasured", visits=0),
)
WEIRSIDE = (
    Lifter("Abel Strandor", "m", 33, "trained", 176.8, 93, 0.9, 0.5, -0.4, "sumo", 218, 242.5, 70, "hips"),
    Lifter("Nessa Colbury", "f", 28, "trained", 166.1, 63, -0.2, 0.7, -0.6, "conventional", 122, 142.5, 54, unit="lb"),
    Lifter("Rufus Thornley", "m", 52, "trained", 174.0, 88, 0.5, -0.2, 0.4, "conventional", 165, 172.5, 60),
    Lifter("Tamsin Orrel", "f", 19, "trained", 158.7, 56, 0.8, -0.8, 0.5, "sumo", 92, 120, 44),
    Lifter("Casimir Bellweather", "m", 26, "trained", 191.3, 112, -0.8, 1.0, -0.8, "wide-sumo", 238, 262.5, 62, "legs"),
    Lifter("Edda Royland", "f", 36, "trained", 170.2, 72, -1.2, 1.3, -1.2, "conventional", 128, 147.5, 66, "dropped"),
    Lifter("Jonas Wickery", "m", 15, "under-18", 170.9, 62, 0.2, 0.6, -0.1, "conventional", 60, 95, 28, "minor"),
    Lifter(
        "Halima Sorrelby", "f", 31, "returning", 162.4, 61, 0.1, 0.2, -0.2, "conventional", 100, 95, 60, "returning"
    ),
    Lifter("Fergus Nyeland", "m", 40, "trained", 171.1, 86, 1.2, -1.7, 1.6, "conventional", 188, 200, 58, "back"),
    Lifter(
        "Wren Callowhill", "f", 24, "trained", 174.8, 79, 0.3, 0.1, 0.1, "wide-sumo", 125, 147.5, 50, landmarks=True
    ),
    Lifter(
        "Stellan Moorcroft",
        "m",
        22,
        "trained",
        182.0,
        89,
        -0.5,
        0.8,
        -0.7,
        "conventional",
        190,
        217.5,
        52,
        "flexible",
        "hook",
    ),
    Lifter("Birgit Haselden", "f", 58, "trained", 161.5, 68, 0.6, -0.3, 0.3, "conventional", 84, 97.5, 56, visits=3),
)

PEOPLE = {
    "Kiln Lane Lifting Club": (
        KILN_LANE,
        {"owner": "Maren Oskeby", "coach": "Tobin Halewood", "staff": "Ines Quellar", "athlete": "Runa Ashby"},
        "kiln",
    ),
    "Weirside Barbell Rooms": (
        WEIRSIDE,
        {"owner": "Anselm Gorrick", "coach": "Dilys Penhow", "staff": "Corin Saltby", "athlete": "Abel Strandor"},
        "weir",
    ),
}
