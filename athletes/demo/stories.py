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


STORIES = {
    "steady": Story(),
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
