"""One logged set, described once: what the core reads, what forms ask, what files hold.

Heights and diameters are m in the records; the database keeps cm, as people type them. "" and None mean "not noted".
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import Annotated

from athletes.schema.fields import Field, FieldSpec, Rule, Values, specs
from athletes.schema.units import CM, KG, SECONDS
from athletes.schema.vocabulary import (
    BarKind,
    GaveWay,
    Grip,
    InNewStyle,
    Lift,
    MissPosition,
    Privacy,
    Result,
    RuleReason,
    Shape,
    ShapeRegion,
    Start,
    Style,
    _,
)

HEAVIEST_KG = 700.0  # more than any bar was ever loaded with; common practice, no source
MOST_REPS = 100
LONGEST_NOTE = 400
MISS_RESULTS = (Result.MISSED, Result.STOPPED_PAIN, Result.NO_LIFT)
ROUNDED = (Shape.ROUNDED_BEFORE, Shape.ROUNDED_DURING)


def is_miss(values: Values) -> bool:
    """Whether the set stopped before its end: missed, ruled no lift, or stopped for pain."""
    return values.get("result") in MISS_RESULTS


def is_made(values: Values) -> bool:
    return values.get("result") == Result.MADE


MISSED_ONLY = Rule("result", is_miss, _("This belongs to a missed lift; for a made one use where the bar was slowest."))
MADE_ONLY = Rule("result", is_made, _("This belongs to a made set; for a missed one say where it stopped."))
NO_LIFT_ONLY = Rule(
    "result",
    lambda values: values.get("result") == Result.NO_LIFT,
    _("A rule reason belongs to a no lift; change the result or leave this empty."),
)
ROUNDED_ONLY = Rule(
    "shape",
    lambda values: values.get("shape") in ROUNDED,
    _("A rounded region was chosen, but the back is not noted as rounded."),
)
AFTER_A_FIRST = Rule(
    "miss_position", lambda values: bool(values.get("miss_position")), _("A second place needs a first one.")
)
DEADLIFT_ONLY = Rule(
    "lift",
    lambda values: values.get("lift") in (Lift.DEADLIFT, None),
    _("A style belongs to a deadlift; leave it empty for another lift."),
)


@dataclass(frozen=True, slots=True)
class PullTags:
    """Everything two sets must share to be comparable; heights and diameters in m."""

    lift: Annotated[
        str,
        Field(
            _("Lift"),
            "lift exercise what exercise-name movement übung uebung exercice mouvement ejercicio esercizio exercício "
            "exercicio oefening övning øvelse liike ćwiczenie упражнение 種目 动作 動作 type-of-lift lift-name "
            "lift-type variation exercise-type",
            Lift,
            group="set",
        ),
    ] = "deadlift"
    style: Annotated[
        str,
        Field(
            _("Style"),
            "style stance stil stance-style stile estilo",
            Style,
            group="set",
            blank=_("not a style lift, or not noted"),
            only_when=DEADLIFT_ONLY,
        ),
    ] = ""
    shape: Annotated[str, Field(_("Back at this load"), "back-shape back shape", Shape, group="tags")] = "unseen"
    bar: Annotated[str, Field(_("Kind of bar"), "bar-kind bar-type", BarKind, group="tags", column="bar_kind")] = (
        "unknown"
    )
    start: Annotated[str, Field(_("Start"), "start starts-from start-position", Start, group="tags")] = "floor"
    start_offset_m: Annotated[
        float,
        Field(
            _("Block height or deficit"),
            "start-height block-height deficit-height height-of-block",
            group="tags",
            unit=CM,
            low=0.0,
            high=60.0,
            kind="height",
            column="start_cm",
            file="start_height",
            typed=("start_typed", "start_unit"),
        ),
    ] = 0.0  # + block, - deficit, relative to the floor start
    disc_diameter_m: Annotated[
        float,
        Field(
            _("Plate diameter"),
            "disc-diameter-cm plate-diameter-cm disc-diameter",
            group="tags",
            unit=CM,
            low=15.0,
            high=60.0,
            column="disc_diameter_cm",
            file="disc",
            help=_("45 unless smaller plates put the bar lower."),
        ),
    ] = 0.45
    grip: Annotated[str, Field(_("Grip"), "grip griff prise agarre presa", Grip, group="tags")] = "unknown"
    straps: Annotated[bool, Field(_("straps"), "straps zughilfen sangles", group="flags")] = False
    belt: Annotated[bool, Field(_("belt"), "belt gürtel ceinture", group="flags")] = False
    suit: Annotated[bool, Field(_("suit"), "suit", group="flags")] = False
    dead_stop: Annotated[bool, Field(_("dead stop each rep"), "dead-stop", group="flags")] = True
    paused: Annotated[bool, Field(_("paused"), "paused", group="flags")] = False
    depth_verified: Annotated[
        bool, Field(_("depth seen: hips level with knees"), "depth-seen depth-verified", group="flags")
    ] = False


@dataclass(frozen=True, slots=True)
class SetRecord:
    """One logged set; load in kg, reps in reserve as a range (None = not noted)."""

    key: str
    day: Annotated[
        date,
        Field(
            _("Day"),
            "date day datum fecha data when jour tag dato päivä päiväys pvm дата дата-тренировки день 日付 日期 "
            "training-date session-date workout-date performed-on performed-at start-time date-time datetime dia día "
            "data-treningu giorno dag measured-on",
            group="set",
            file="date",
        ),
    ]
    load_kg: Annotated[
        float,
        Field(
            _("Load on the bar"),
            "load weight kg lb lbs load-kg weight-kg weight-lb weight-lbs load-lb gewicht last belastung poids charge "
            "peso carga carico gewicht-kg poids-kg peso-kg vikt vekt vægt paino ciężar obciążenie belasting вес "
            "нагрузка 重量 重さ bar-weight weight-lifted weight-used load-typed amount kilos pounds",
            group="set",
            unit=KG,
            low=0.0,
            high=HEAVIEST_KG,
            kind="load",
            file="load",
            typed=("load_typed", "load_unit"),
        ),
    ]
    reps_made: Annotated[
        int,
        Field(
            _("Reps made"),
            "reps rep repetitions repeats wdh wdhs wiederholungen répétitions répét repetitions-count repeticiones "
            "reps-made made-reps ripetizioni rip repetições repetisjoner repetitioner herhalingen toistot powtórzenia "
            "powt повторения повторений повт 回数 レップ レップ数 次数 r",
            group="set",
            low=0,
            high=MOST_REPS,
            file="reps",
            help=_("Empty: all of them when made, one fewer when missed."),
        ),
    ]
    reps_tried: Annotated[
        int,
        Field(
            _("Reps tried"),
            "reps-tried tried reps-attempted attempted-reps",
            group="set",
            low=1,
            high=MOST_REPS,
            file="tried",
        ),
    ]
    tags: PullTags
    result: Annotated[
        str,
        Field(
            _("Result"),
            "result outcome made success made? good? made-missed hit-miss make-miss ergebnis résultat resultat "
            "resultado risultato rezultat wynik uitslag результат 結果 结果 status gültig valid lights",
            Result,
            group="set",
        ),
    ] = "made"
    rir_low: Annotated[
        float | None,
        Field(
            _("RPE or reps in reserve"),
            "effort rpe @ intensity-rpe exertion rpe-typed anstrengung session-rpe",
            group="set",
            kind="effort",
            file="effort",
            typed=("effort_typed",),
            help=_("RPE as 8, 8.5 or 8-9; reps in reserve as RIR 2 or RIR 1-2."),
        ),
    ] = None
    rir_high: float | None = None
    miss_position: Annotated[
        str,
        Field(
            _("Stopped where"),
            "missed-at miss-position where-missed",
            MissPosition,
            group="miss",
            blank=_("not seen"),
            only_when=MISSED_ONLY,
        ),
    ] = ""
    second_position: Annotated[
        str,
        Field(
            _("Or perhaps"),
            "second-miss-position second-position",
            MissPosition,
            group="miss",
            blank=_("no second place"),
            only_when=AFTER_A_FIRST,
        ),
    ] = ""
    gave_way: Annotated[
        str,
        Field(
            _("What gave way"),
            "what-gave-way gave-way miss-reason",
            GaveWay,
            group="miss",
            blank=_("not seen"),
            only_when=MISSED_ONLY,
        ),
    ] = ""
    rule_reason: Annotated[
        str,
        Field(
            _("Rule reason"),
            "rule-reason no-lift-reason",
            RuleReason,
            group="miss",
            blank=_("none"),
            only_when=NO_LIFT_ONLY,
        ),
    ] = ""
    slowest_at: Annotated[
        str,
        Field(
            _("Bar slowest at"),
            "slowest-at sticking-point",
            MissPosition,
            group="heavy",
            blank=_("not noted"),
            only_when=MADE_ONLY,
        ),
    ] = ""
    what_changed: Annotated[
        str,
        Field(
            _("What changed"),
            "what-changed",
            GaveWay,
            group="heavy",
            blank=_("nothing, or not noted"),
            only_when=MADE_ONLY,
        ),
    ] = ""
    pull_seconds: Annotated[
        float | None,
        Field(_("Time of the pull"), "seconds pull-seconds", group="heavy", unit=SECONDS, low=0.1, high=60.0),
    ] = None
    shape_region: Annotated[
        str,
        Field(
            _("Rounded where"),
            "back-region shape-region",
            ShapeRegion,
            group="tags",
            blank=_("not noted"),
            only_when=ROUNDED_ONLY,
        ),
    ] = ""
    in_new_style: Annotated[
        str,
        Field(_("In the trial's new style"), "in-new-style", InNewStyle, group="tags", blank=_("no trial")),
    ] = ""
    trial_key: str = ""
    is_test: Annotated[bool, Field(_("a test, not training"), "test-day test is-test", group="flags")] = False

    @property
    def miss_positions(self) -> tuple[str, ...]:
        """Where the bar may have stopped, the likelier place first; empty when not noted."""
        return tuple(place for place in (self.miss_position, self.second_position) if place)


@dataclass(frozen=True, slots=True)
class DayRecord:
    """The optional note of a training day; soreness and energy 0-10, sleep in hours, mass in kg."""

    day: date
    soreness: Annotated[int | None, Field(_("Soreness"), low=0, high=10, private=frozenset({Privacy.HEALTH}))] = None
    soreness_site: str = ""
    sleep_hours: Annotated[float | None, Field(_("Sleep"), low=0.0, high=24.0)] = None
    energy: Annotated[int | None, Field(_("Energy"), low=0, high=10)] = None
    body_mass_kg: Annotated[
        float | None,
        Field(_("Body mass"), unit=KG, low=20.0, high=350.0, column="mass_kg", private=frozenset({Privacy.MASS})),
    ] = None
    pain_event: bool = False


# The order of the columns of an exported table; a described field that is not listed here follows in front of the note.
_FIRST = ("day", "lift", "style", "load_kg", "reps_made", "reps_tried", "rir_low", "result")


def set_specs() -> dict[str, FieldSpec]:
    """Every described field of a set by name: what the set is, then what makes it comparable, then what was seen."""
    found = specs(SetRecord) | specs(PullTags)
    return {name: found[name] for name in (*_FIRST, *(name for name in found if name not in _FIRST))}
