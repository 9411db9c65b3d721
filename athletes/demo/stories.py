"""What each story leaves in a log: where misses happen, what is seen, how other lifts stand to the pull (invented)."""

from dataclasses import dataclass, field

from athletes.models.choices import GaveWay as Seen
from athletes.models.choices import MissPosition as At


@dataclass(frozen=True)
class Story:
    """Shares are of the athlete's best pull; `rounds_at` is the share from which the back rounds during the pull."""

    misses: tuple[tuple[str, str], ...] = ((At.AT_KNEE, Seen.SLOWED_STOPPED), (At.MID_THIGH, Seen.SLOWED_STOPPED))
    squat: float = 0.86
    front_squat: float = 0.64
    below_knee_block: float = 1.07
    rounds_at: float = 9.0
    tests_every: int = 7
    own_grip: float = 9.0
    slow: tuple[str, str] | None = None  # where a heavy made single was slowest, and what changed there
    timed: bool = False  # a video of every heavy pull gives its seconds
    notes: tuple[str, ...] = field(default=("",))


@dataclass(frozen=True)
class Course:
    """A style trial of a story: weeks since it began, share of the old best at its first and last week, days kept.

    One of more than 12 weeks was made longer by four. `decided` is "" while it runs; a running one whose weeks are
    over waits for the decision.
    """

    weeks_ago: int
    first: float
    last: float
    weeks: int = 12
    kept: float = 1.0  # share of its days that were pulled
    decided: str = ""


COURSES = {
    "trial": Course(8, 0.88, 0.957),
    "trial-short": Course(8, 0.88, 0.92, kept=0.3),
    "trial-pain": Course(5, 0.88, 0.93),
    "due-adopt": Course(12, 0.92, 1.07),
    "due-level": Course(16, 0.93, 0.975, weeks=16),
    "due-more": Course(12, 0.88, 0.975),
    "due-back": Course(12, 0.84, 0.90),
    "adopted": Course(56, 0.90, 1.0, decided="adopt"),
    "adopted-lately": Course(20, 0.90, 1.02, decided="adopt"),
    "dropped": Course(22, 0.84, 0.888, decided="drop"),
    "back-link": Course(42, 0.84, 0.88, decided="drop"),
}
NEW_STYLE = "sumo"  # of every course; who had it tried it against conventional
BACK = ((At.BELOW_KNEE, Seen.BACK_ROUNDED), (At.BELOW_KNEE, Seen.SLOWED_STOPPED), (At.AT_KNEE, Seen.BACK_ROUNDED))
STORIES = {
    "steady": Story(),
    "back-link": Story(
        misses=BACK,
        front_squat=0.74,
        squat=0.95,
        below_knee_block=1.02,
        tests_every=3,
        slow=(At.BELOW_KNEE, Seen.BACK_ROUNDED),
    ),
    "strong-squat": Story(
        misses=((At.LOCKOUT, Seen.BACK_ROUNDED), (At.AT_KNEE, Seen.BACK_ROUNDED)),
        front_squat=0.86,
        squat=1.12,
        below_knee_block=0.96,
        tests_every=2,
        slow=(At.AT_KNEE, Seen.BACK_ROUNDED),
    ),
    "sore-back": Story(tests_every=5, front_squat=0.78, squat=1.0, below_knee_block=0.97),
    "both-styles": Story(tests_every=5, misses=BACK, front_squat=0.78, squat=1.0, below_knee_block=0.97),
    "pinch": Story(tests_every=8),
    "sore-hip": Story(tests_every=8),
    "meet-near": Story(tests_every=8),
    "unmeasured": Story(),
    **{name: Story(tests_every=6) for name in COURSES if name not in ("trial", "adopted", "dropped", "back-link")},
    "back": Story(
        misses=(
            (At.LOCKOUT, Seen.STRAIGHT_BUT_ROUND),
            (At.MID_THIGH, Seen.BACK_ROUNDED),
            (At.LOCKOUT, Seen.BACK_ROUNDED),
        ),
        front_squat=0.74,
        squat=0.93,
        below_knee_block=0.99,
        rounds_at=0.88,
        tests_every=3,
        slow=(At.LOCKOUT, Seen.BACK_ROUNDED),
        notes=("round from the floor on the heavy one", "held on for long at the top", ""),
    ),
    "round": Story(
        misses=((At.LOCKOUT, Seen.STRAIGHT_BUT_ROUND), (At.LOCKOUT, Seen.BACK_ROUNDED)),
        squat=0.9,
        rounds_at=0.84,
        tests_every=3,
        notes=("legs done, back still round at the top", ""),
    ),
    "grip": Story(
        misses=((At.LOCKOUT, Seen.GRIP_OPENED), (At.MID_THIGH, Seen.GRIP_OPENED)),
        tests_every=2,
        own_grip=0.94,
        timed=True,
        notes=("fingers opened, back flat", "hand tore", ""),
    ),
    "legs": Story(
        misses=((At.FLOOR, Seen.NEVER_MOVED), (At.FLOOR, Seen.HIPS_SHOT_UP), (At.MID_SHIN, Seen.HIPS_SHOT_UP)),
        squat=0.76,
        front_squat=0.51,
        below_knee_block=1.17,
        tests_every=3,
        slow=(At.FLOOR, Seen.HIPS_SHOT_UP),
        notes=("would not break the floor", "hips first", ""),
    ),
    "hips": Story(tests_every=3, below_knee_block=1.0, front_squat=0.70, slow=(At.AT_KNEE, Seen.SLOWED_STOPPED)),
    "mixed-signs": Story(
        misses=(
            (At.FLOOR, Seen.NEVER_MOVED),
            (At.LOCKOUT, Seen.STRAIGHT_BUT_ROUND),
            (At.AT_KNEE, Seen.SLOWED_STOPPED),
            (At.BELOW_KNEE, Seen.LOST_BALANCE),
            (At.MID_THIGH, Seen.HIPS_SHOT_UP),
        ),
        front_squat=0.72,
        squat=0.74,
        below_knee_block=0.95,
        tests_every=4,
    ),
    "beginner": Story(tests_every=99, squat=0.80),
    "minor": Story(tests_every=99, squat=0.82),
    "thin": Story(tests_every=99),
    "returning": Story(tests_every=9),
    "trial": Story(tests_every=6, timed=True),
    "adopted": Story(tests_every=6),
    "dropped": Story(tests_every=6),
    "flexible": Story(tests_every=5, timed=True, notes=("flexible bar", "")),
    "new": Story(),
}
