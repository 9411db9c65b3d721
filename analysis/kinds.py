"""Every kind of stored profile with the function that computes it."""

from __future__ import annotations

from analysis.decision.page import compute_decision
from analysis.progress.back_load import compute_back_load
from analysis.progress.bar_grip import compute_bar_grip
from analysis.progress.page import compute_progress
from analysis.squad.profile import compute_squad, compute_summary, compute_trial
from analysis.squad.wall import compute_wall
from analysis.store.profiles import register
from analysis.today.profile import compute_today
from analysis.weak_link.page import compute_weak_link


def register_all() -> None:
    """Tell the store how each kind is computed."""
    register("squad", compute_squad)
    register("summary", compute_summary)
    register("wall", compute_wall)
    register("today", compute_today)
    register("trial", compute_trial)
    register("decision", compute_decision)
    register("weak-link", lambda its: compute_weak_link(its.lifter, its.as_of, its.numbers))
    register("progress", lambda its: compute_progress(its.lifter, its.as_of, its.numbers))
    register("back-load", lambda its: compute_back_load(its.lifter, its.as_of, its.numbers, its.strengths))
    register("bar-and-grip", lambda its: compute_bar_grip(its.lifter, its.as_of, its.numbers, its.strengths))
