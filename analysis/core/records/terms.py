"""The vocabularies of the schema as plain tuples, in the order the core indexes them, and the core's own terms."""

from __future__ import annotations

from athletes.schema.vocabulary import (
    BarKind,
    GaveWay,
    Grip,
    Lift,
    MissPosition,
    Result,
    RuleReason,
    Shape,
    Standing,
    Start,
    Style,
)

STYLES = tuple(Style.values)
POSTURE_PRESETS = (*STYLES, "rounded")
LIFTS = tuple(Lift.values)
SHAPES = tuple(Shape.values)
BARS = tuple(BarKind.values)
GRIPS = tuple(Grip.values)
STARTS = tuple(Start.values)
RESULTS = tuple(Result.values)
MISS_POSITIONS = tuple(MissPosition.values)
GAVE_WAY = tuple(GaveWay.values)
RULE_REASONS = tuple(RuleReason.values)
LINKS = ("hips", "legs", "back", "grip")
STANDINGS = tuple(Standing.values)
