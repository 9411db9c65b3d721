"""Every described field has a database column that agrees with it: kind, length, choices, limits."""

import pytest
from django.core.exceptions import ValidationError
from django.db import models

from athletes.models import LiftSet, Measurement, Posture
from athletes.models.choices import choices
from athletes.schema.measurements import MEASUREMENTS, measure_choices
from athletes.schema.postures import posture_specs
from athletes.schema.sets import set_specs
from athletes.units.schema_fields import TYPED_LENGTH

COLUMNS = {column.name: column for column in LiftSet._meta.concrete_fields}
SPECS = set_specs()
KINDS = {
    "flag": models.BooleanField,
    "count": models.PositiveSmallIntegerField,
    "number": models.FloatField,
    "load": models.FloatField,
    "height": models.FloatField,
    "effort": models.FloatField,
    "day": models.DateField,
    "term": models.CharField,
}
OWN = {"id", "uid", "order", "athlete", "trial", "batch", "author", "created", "changed", "note", "bar"}
BESIDE = {"rir_high", "load_typed", "load_unit", "effort_typed", "start_typed", "start_unit"}


POSTURE = {column.name: column for column in Posture._meta.concrete_fields}
POSTURES = posture_specs()


@pytest.mark.parametrize("name", SPECS)
def test_a_described_field_has_its_column(name):
    spec = SPECS[name]
    column = COLUMNS[spec.column]
    assert isinstance(column, KINDS[spec.kind])
    if spec.term is not None:
        assert [value for value, _ in column.choices] == spec.term.values
        assert [str(label) for _, label in column.choices] == spec.term.labels
        assert column.max_length >= max(map(len, spec.term.values))
        assert column.blank == (not spec.default)
    if spec.kind == "number":
        assert column.null or column.default == pytest.approx(spec.default / spec.field.unit.si)
    for typed in spec.field.typed:
        assert COLUMNS[typed].max_length in (2, TYPED_LENGTH)


def test_every_column_is_described_or_known_to_stand_beside():
    assert set(COLUMNS) - {spec.column for spec in SPECS.values()} == OWN | BESIDE


@pytest.mark.parametrize("name", POSTURES)
def test_a_thing_seen_of_a_posture_has_its_column(name):
    spec = POSTURES[name]
    column = POSTURE[spec.column]
    assert isinstance(column, KINDS[spec.kind])
    if spec.term is not None:
        assert [(value, str(words)) for value, words in column.choices] == spec.term.choices
        assert column.max_length >= max(map(len, spec.term.values)) and column.blank == (spec.default == "")
    assert spec.required or column.blank


def test_every_column_of_a_posture_is_described_or_known_to_stand_beside():
    beside = {"id", "athlete", "author", "created", "note", "heels_typed", "heels_unit"}
    assert set(POSTURE) - {spec.column for spec in POSTURES.values()} == beside


def test_a_measurement_may_be_any_of_the_described():
    column = Measurement._meta.get_field("key")
    assert list(column.choices) == measure_choices()
    column.clean(MEASUREMENTS[0].key, None)
    with pytest.raises(ValidationError):
        column.clean("no-such-length", None)


def test_words_of_choices_are_marked_for_translation():
    lazy = choices(SPECS["gave_way"].term)
    assert all(not isinstance(label, str) for _, label in lazy)
