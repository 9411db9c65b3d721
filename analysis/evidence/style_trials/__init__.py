"""Style trials: sessions counted, the dip modelled, a word with its reasons."""

from .heading import heading_of
from .model import TrialData, TrialPosterior, infer
from .planning import first_hint, plan_findings
from .sessions import Sessions, Sides, sessions_of, sides_of, trial_sets
from .tolerance import tolerance_of
from .verdict import judge_trial

__all__ = [
    "Sessions",
    "Sides",
    "TrialData",
    "TrialPosterior",
    "first_hint",
    "heading_of",
    "infer",
    "judge_trial",
    "plan_findings",
    "sessions_of",
    "sides_of",
    "tolerance_of",
    "trial_sets",
]
