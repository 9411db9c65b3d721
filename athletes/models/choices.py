"""The vocabularies of the schema as database columns and form fields take them."""

from django.utils.functional import Promise
from django.utils.translation import gettext_lazy

from athletes.schema.measurements import MeasureKey, measure_choices
from athletes.schema.vocabulary import (
    Arms,
    BackShape,
    BarKind,
    BarOverFoot,
    BodySite,
    GaveWay,
    Grip,
    HealthKind,
    InNewStyle,
    Knees,
    LengthUnit,
    Lift,
    MissPosition,
    PostureSource,
    Pronoun,
    Result,
    Role,
    RuleReason,
    Sex,
    Shape,
    ShapeRegion,
    Standing,
    Start,
    Style,
    SuccessMeasure,
    Term,
    TrialStatus,
    Verdict,
    WeightUnit,
)


def choices(term: type[Term], blank: str | None = None) -> list[tuple[str, str | Promise]]:
    """Pairs of stored value and translated words; `blank` words an empty first choice."""
    pairs: list[tuple[str, str | Promise]] = [(value, gettext_lazy(label)) for value, label in term.choices]
    return pairs if blank is None else [("", gettext_lazy(blank) if blank else ""), *pairs]


__all__ = [
    "Arms", "BackShape", "BarKind", "BarOverFoot", "BodySite", "GaveWay", "Grip", "HealthKind", "InNewStyle", "Knees",
    "LengthUnit", "Lift", "MeasureKey", "MissPosition", "PostureSource", "Pronoun", "Result", "Role", "RuleReason",
    "Sex", "Shape", "ShapeRegion", "Standing", "Start", "Style", "SuccessMeasure", "TrialStatus", "Verdict",
    "WeightUnit", "choices", "measure_choices",
]  # fmt: skip
