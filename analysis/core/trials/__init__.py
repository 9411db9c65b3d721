"""Style trials: sessions counted, the dip modelled, a word with its reasons."""

from analysis.core.trials.heading import heading_of
from analysis.core.trials.model import TrialData, TrialPosterior, infer
from analysis.core.trials.planning import first_hint, plan_findings
from analysis.core.trials.sessions import Sessions, Sides, sessions_of, sides_of, trial_sets
from analysis.core.trials.tolerance import tolerance_of
from analysis.core.trials.verdict import judge_trial

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
