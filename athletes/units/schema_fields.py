"""Form fields made from the descriptions of the schema, so that a form names no field twice."""

from collections.abc import Callable, Iterable
from typing import Any

from django import forms
from django.db import models
from django.utils.translation import gettext_lazy as _

from athletes.models.choices import LengthUnit, WeightUnit, choices
from athletes.schema.fields import FieldSpec, Values
from athletes.schema.units import CM, KG
from athletes.units.fields import NumberField

TYPED_LENGTH = 20  # characters of a typed amount, as the columns hold
MUST_BE_CHOSEN = {"lift", "result"}  # other lists fall back to their default, "not noted"
UNIT_CHOICES = {KG: WeightUnit, CM: LengthUnit}


def form_field(spec: FieldSpec) -> forms.Field:
    """The form field of a described value: words, limits and choices come from its description."""
    field = spec.field
    if spec.term is not None:
        listed = choices(spec.term, None if spec.default else field.blank)
        chosen = spec.name in MUST_BE_CHOSEN
        return forms.ChoiceField(label=_(field.label), choices=listed, required=chosen, initial=spec.default or "")
    if spec.kind == "flag":
        return forms.BooleanField(label=_(field.label), required=False, initial=spec.default)
    if spec.kind == "count":
        return forms.IntegerField(
            label=_(field.label),
            min_value=int(field.low or 0),
            max_value=None if field.high is None else int(field.high),
            required=False,
            help_text=_(field.help) if field.help else "",
        )
    if spec.kind == "number":
        return number_field(spec)
    raise TypeError(f"{spec.name}: no form field for the kind {spec.kind!r}")


def number_field(spec: FieldSpec) -> NumberField:
    """A number between the limits of its description, in the unit of its column."""
    field, unit = spec.field, spec.field.unit
    symbol = f" {unit.symbol}" if unit else ""
    low, high = spec.limits
    return NumberField(
        label=f"{field.label}, {unit.symbol}" if unit else field.label,
        what=field.label,
        low=low,
        high=high,
        unit=symbol,
        required=False,
        help_text=_(field.help) if field.help else "",
    )


def typed_fields(spec: FieldSpec, required: bool) -> dict[str, forms.Field]:
    """The box for what is typed and, where the amount has a unit, the choice of unit, by column."""
    text, *unit = spec.field.typed
    widget = forms.TextInput({"inputmode": "decimal"}) if spec.kind == "load" else forms.TextInput()
    found: dict[str, forms.Field] = {
        text: forms.CharField(
            label=_(spec.field.label),
            max_length=TYPED_LENGTH,
            required=required,
            widget=widget,
            help_text=_(spec.field.help) if spec.field.help else "",
        )
    }
    if unit and spec.field.unit is not None:
        words = UNIT_CHOICES[spec.field.unit]
        label = _("Unit") if spec.kind == "load" else _("Its unit")
        found[unit[0]] = forms.ChoiceField(label=label, choices=choices(words), required=required)
    return found


def form_fields(specs: Iterable[FieldSpec]) -> dict[str, forms.Field]:
    """The form fields of several descriptions by database column, in their order."""
    found: dict[str, forms.Field] = {}
    for spec in specs:
        found |= typed_fields(spec, spec.required) if spec.field.typed else {spec.column: form_field(spec)}
    return found


def callback(fields: dict[str, forms.Field]) -> Callable[..., forms.Field | None]:
    """A model form's `formfield_callback`: columns with a description take its field, others Django's own."""

    def field_of(column: models.Field, **kwargs: Any) -> forms.Field | None:
        return fields[column.name] if column.name in fields else column.formfield(**kwargs)

    return field_of


def broken_rules(specs: Iterable[FieldSpec], values: Values) -> dict[str, str]:
    """By column, the message for each field that is filled in although its rule does not allow it."""
    return {
        spec.column: rule.message
        for spec in specs
        if (rule := spec.field.only_when) is not None
        and rule.needs in values
        and values.get(spec.column)
        and not rule.allows(values)
    }
