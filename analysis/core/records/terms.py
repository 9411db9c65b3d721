"""The closed vocabularies of the core; the web layer holds equal lists and a test compares them."""

from __future__ import annotations

STYLES = ("conventional", "sumo", "wide-sumo")
POSTURE_PRESETS = ("conventional", "sumo", "wide-sumo", "rounded")
LIFTS = (
    "deadlift",
    "squat",
    "front-squat",
    "romanian",
    "good-morning",
    "back-raise",
    "row",
    "bench",
    "other",
)
SHAPES = ("unseen", "flat", "rounded-before", "rounded-during")
BARS = ("unknown", "stiff", "training", "flexible", "squat-bar", "hex-low", "hex-high", "other")
GRIPS = ("unknown", "double-overhand", "mixed", "hook")
STARTS = ("floor", "block", "deficit")
RESULTS = ("made", "missed", "no-lift", "not-tried", "stopped-pain")
MISS_POSITIONS = ("floor", "mid-shin", "below-knee", "at-knee", "mid-thigh", "lockout")
GAVE_WAY = (
    "never-moved",
    "slowed-stopped",
    "back-rounded",
    "straight-but-round",
    "hips-shot-up",
    "grip-opened",
    "lost-balance",
    "feet-moved",
)
RULE_REASONS = (
    "downward-movement",
    "not-erect",
    "knees-not-locked",
    "supported-on-thighs",
    "stepped",
    "early-lower",
    "uncontrolled-return",
    "other-rule",
)
LINKS = ("hips", "legs", "back", "grip")
STANDINGS = ("beginner", "trained", "returning", "under-18")
