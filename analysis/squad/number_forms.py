"""One field for every number of the trade, in groups, with its limits and its mark."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from django import forms
from django.forms.boundfield import BoundField

from analysis.core.settings import GROUPS, REGISTRY, Setting, Settings


def field_name(key: str) -> str:
    """A setting's key as a field name."""
    return key.replace(".", "__")


def field_for(setting: Setting, now: float) -> forms.Field:
    """The form field of one setting, filled with the value in force."""
    about = (
        f"{setting.help} Usual: {shown(setting, setting.default)}. {setting.source[:1].upper()}{setting.source[1:]}."
    )
    label = setting.key.partition(".")[2].replace("_", " ")
    if setting.unit == "switch":
        return forms.BooleanField(label=label, required=False, initial=now >= 0.5, help_text=about)
    if setting.choices:
        options = [(str(i), word) for i, word in enumerate(setting.choices)]
        return forms.ChoiceField(label=label, choices=options, initial=str(round(now)), help_text=about)
    return forms.FloatField(
        label=f"{label}, {setting.unit}",
        min_value=setting.low,
        max_value=setting.high,
        initial=now,
        localize=False,
        help_text=f"{about} Between {setting.low:g} and {setting.high:g}.",
        widget=forms.NumberInput(attrs={"step": "any"}),
    )


def shown(setting: Setting, value: float) -> str:
    """A value of a setting in words."""
    if setting.unit == "switch":
        return "on" if value >= 0.5 else "off"
    return setting.choices[round(value)] if setting.choices else f"{value:g} {setting.unit}"


class NumbersForm(forms.Form):
    """All settings; only values that differ from those in force are changes."""

    def __init__(self, *args: Any, now: Settings, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.now = now
        for key, setting in REGISTRY.items():
            self.fields[field_name(key)] = field_for(setting, now[key])

    def groups(self) -> Iterator[tuple[str, list[BoundField]]]:
        """Heading and bound fields of each group."""
        for heading, settings in GROUPS:
            yield heading, [self[field_name(s.key)] for s in settings]

    def changed_numbers(self) -> dict[str, float]:
        """Key -> new value of every setting that was changed."""
        asked = {key: float(self.cleaned_data[field_name(key)]) for key in REGISTRY}
        return {key: value for key, value in asked.items() if abs(value - self.now[key]) > 1e-12}
