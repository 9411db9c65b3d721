"""What may be asked of the leverage pages: a changed setup, another body beside this one."""

from __future__ import annotations

import re
from math import radians
from typing import TYPE_CHECKING, Any

from django import forms
from django.db.models import QuerySet

from analysis.core.leverages.findings import STYLE_WORDS
from analysis.core.records.pulls import SetupInput
from athletes.access.permissions import visible_athletes
from athletes.models import Athlete, User
from athletes.models.choices import BarKind, Start
from athletes.units.fields import NumberField, choice_field
from athletes.units.loads import LENGTH_WORDS, UnreadableAmount, canonical, parse_number

if TYPE_CHECKING:
    from analysis.leverages.page import Page

BARS = (BarKind.UNKNOWN, BarKind.STIFF, BarKind.TRAINING, BarKind.FLEXIBLE)
TYPED_LENGTH = re.compile(r"(?P<number>.*?)\s*(?P<unit>[a-zA-Z\"″]*)\.?", re.DOTALL)
TYPED_SHARE = re.compile(r"(?P<sign>[+\-−]?)\s*(?P<number>.*?)\s*%?", re.DOTALL)
CHANGES = ("stance", "turnout", "hands", "sole", "bar", "start", "start_height")  # fields that depart from a style
FIELD_OF = {
    "stance": "stance",
    "stance_m": "stance",
    "turnout_rad": "turnout",
    "hand spacing": "hands",
    "hand_spacing_m": "hands",
    "sole_m": "sole",
    "start height": "start_height",
    "start_height_m": "start_height",
}


class LengthField(forms.CharField):
    """A length in the reader's unit or with one written behind it; metres out, None when left empty."""

    def __init__(self, *, what: str, unit: str, high_cm: float, **extra: Any) -> None:
        self.what, self.unit, self.high_cm = what, unit, high_cm
        super().__init__(**{"max_length": 20, "required": False, "label": f"{what}, {unit}", **extra})
        self.widget.attrs["inputmode"] = "decimal"

    def clean(self, value: object) -> float | None:
        text = super().clean(value)
        if not text:
            return None
        found = TYPED_LENGTH.fullmatch(text.strip())
        word = found["unit"].lower() if found else ""
        if found and found["number"] and word and word not in LENGTH_WORDS:
            raise forms.ValidationError(f"{self.what} “{text}”: the unit “{word}” is not cm or in.")
        try:
            number = parse_number((found and found["number"]) or text, self.what)
        except UnreadableAmount as problem:
            raise forms.ValidationError(str(problem)) from None
        cm = canonical(number, LENGTH_WORDS.get(word, self.unit))
        if cm > self.high_cm:
            raise forms.ValidationError(f"{self.what} “{text}” is more than {self.high_cm:g} cm.")
        return cm / 100.0


class ShareField(forms.CharField):
    """A change in percent, with or without a sign; a share out (0.03 for "+3"), None when left empty."""

    def __init__(self, *, what: str, limit: float, **extra: Any) -> None:
        self.what, self.limit = what, limit
        super().__init__(**{"max_length": 12, "required": False, **extra})

    def clean(self, value: object) -> float | None:
        text = super().clean(value)
        if not text:
            return None
        found = TYPED_SHARE.fullmatch(text.strip())
        try:
            number = parse_number(found["number"] if found else text, self.what)
        except UnreadableAmount as problem:
            raise forms.ValidationError(str(problem)) from None
        if number > self.limit:
            raise forms.ValidationError(f"{self.what} “{text}” is outside -{self.limit:g} to +{self.limit:g} %.")
        return (-number if found and found["sign"] in "-−" and found["sign"] else number) / 100.0


class WhatIfForm(forms.Form):
    """A style and what departs from it; every empty field keeps the style's own setting."""

    style = forms.ChoiceField(label="Start from")
    turnout = NumberField(
        what="Turnout", low=0, high=85, unit="°", required=False, label="Turnout of the feet, degrees"
    )
    bar = forms.ChoiceField(label="Bar", required=False, choices=[(kind.value, kind.label) for kind in BARS])
    start = forms.ChoiceField(label="Start", required=False, choices=Start.choices)

    def __init__(self, *args: Any, page: Page, **extra: Any) -> None:
        self.page = page
        super().__init__(*args, **extra)
        styles = ["conventional", "sumo", "wide-sumo", *(["rounded"] if page.explains_rounding else [])]
        choice_field(self, "style").choices = [(style, STYLE_WORDS[style]) for style in styles]
        unit = page.length_unit
        self.fields |= {
            "stance": LengthField(what="Stance, ankle to ankle", unit=unit, high_cm=200),
            "hands": LengthField(what="Hands apart", unit=unit, high_cm=131),
            "sole": LengthField(what="Shoe sole", unit=unit, high_cm=10),
            "start_height": LengthField(what="Height of the block or depth of the deficit", unit=unit, high_cm=60),
        }
        order = ("style", *CHANGES[:3], "sole", "bar", "start", "start_height")
        self.order_fields(order)

    def clean_stance(self) -> float | None:
        """A stance that the first meeting and the discs allow."""
        stance = self.cleaned_data["stance"]
        for limit in self.page.limits:
            if stance is not None and stance > limit.widest_m + 0.0005:
                raise forms.ValidationError(
                    f"{self.page.length(stance)} is wider than {self.page.length(limit.widest_m)}, {limit.reason}."
                )
        return stance

    def clean(self) -> dict[str, Any]:
        """A block or deficit needs its height, and a height needs a block or deficit."""
        data = super().clean() or self.cleaned_data
        start, height = data.get("start") or Start.FLOOR, data.get("start_height")
        if "start_height" in data and start != Start.FLOOR and not height:
            self.add_error("start_height", f"How high is the {'block' if start == Start.BLOCK else 'deficit'}?")
        if height and start == Start.FLOOR:
            self.add_error(
                "start", f"{self.page.length(height)} of what? Choose block or deficit, or empty the height."
            )
        return data

    def setup(self) -> SetupInput:
        """The changed setup, called "your change"."""
        data = self.cleaned_data
        height = data.get("start_height") or 0.0
        turnout = data.get("turnout")
        base = self.page.usual(data["style"])
        return SetupInput(
            preset=data["style"],
            name="your change",
            stance_m=base.stance_m if data.get("stance") is None else data["stance"],
            turnout_rad=base.turnout_rad if turnout is None else radians(turnout),
            own=base.own,
            hand_spacing_m=data.get("hands"),
            sole_m=data.get("sole"),
            bar=data.get("bar") or BarKind.UNKNOWN.value,
            start_offset_m={Start.BLOCK: height, Start.DEFICIT: -height}.get(data.get("start") or Start.FLOOR, 0.0),
        )

    def blame(self, quantity: str, reason: str) -> None:
        """Put the core's refusal at the field that caused it."""
        self.add_error(FIELD_OF.get(quantity), f"{reason[:1].upper()}{reason[1:]}.")


AVERAGE, SAME_BODY = "average", "same"


class CompareForm(forms.Form):
    """Whom to stand beside the athlete, or how much longer the athlete's own arms, and in which style."""

    beside = forms.ChoiceField(label="Beside")
    arm = ShareField(
        what="Arms longer or shorter",
        limit=15,
        label="Arms longer (+) or shorter (-), %",
        help_text="Only for the athlete's own body with other arms.",
    )
    style = forms.ChoiceField(
        label="Style", choices=[(s, STYLE_WORDS[s]) for s in ("conventional", "sumo", "wide-sumo")]
    )

    def __init__(self, *args: Any, page: Page, viewer: User, **extra: Any) -> None:
        super().__init__(*args, **extra)
        self.others: QuerySet[Athlete] = visible_athletes(viewer).exclude(pk=page.athlete.pk).filter(active=True)
        people = [(str(athlete.pk), athlete.name) for athlete in self.others]
        same = "an average body of the same stature and sex"
        choice_field(self, "beside").choices = [
            (AVERAGE, same),
            (SAME_BODY, "the same body with other arms"),
            *people,
        ]

    def clean(self) -> dict[str, Any]:
        """Other arms need to be told how much, and belong to the athlete's own body."""
        data = super().clean() or self.cleaned_data
        if data.get("beside") == SAME_BODY and "arm" in data and data["arm"] is None:
            self.add_error("arm", "How much longer or shorter? Up to 15 %.")
        if data.get("beside") not in (SAME_BODY, None) and data.get("arm"):
            self.add_error("beside", "Other arms are drawn on the same body: choose it, or empty the arms.")
        return data

    def other(self) -> Athlete | None:
        """The chosen athlete; None for the average body and the athlete's own."""
        chosen = self.cleaned_data["beside"]
        return None if chosen in (AVERAGE, SAME_BODY) else self.others.get(pk=int(chosen))
