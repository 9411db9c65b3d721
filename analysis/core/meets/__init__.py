"""Meet attempts: the day's best, plans of three attempts, warm-ups."""

from analysis.core.meets.day_best import MeetDay, chance_of, day_best, preparation_findings
from analysis.core.meets.plans import (
    Goal,
    ImpossibleAttempts,
    evaluate,
    opener_finding,
    plan_attempts,
    ratio_plan,
    warm_up_ladder,
)
from analysis.core.meets.tree import Result

__all__ = [
    "Goal",
    "ImpossibleAttempts",
    "MeetDay",
    "Result",
    "chance_of",
    "day_best",
    "evaluate",
    "opener_finding",
    "plan_attempts",
    "preparation_findings",
    "ratio_plan",
    "warm_up_ladder",
]
