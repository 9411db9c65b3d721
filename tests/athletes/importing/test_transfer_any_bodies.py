"""Whatever stands in a table of bodies: every line has a standing and a reason, and undo leaves nothing behind."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from athletes.importing.moving.outcome import sums
from athletes.importing.moving.taking import take_in
from athletes.importing.moving.undoing import undo
from athletes.importing.tasks import advance
from athletes.models import LiftSet, Measurement, TrainingDay
from athletes.reader.notes import Refused
from athletes.schema.measurements import measurement
from tests.athletes.importing.import_steps import outcome, read_in
from tests.athletes.reader.test_transfer_safety import quick, typed

BODIES = "date,lifter,lift,weight,unit,reps,bw,height,arm,wingspan,acromial height\n"
lengths = st.sampled_from(
    ["5'11", "5'11\"", "180", "1.80", "1,80", "71in", '72"', "5.11", "82,4", "12 st 3", "28.4", "tall"]
)


@pytest.mark.django_db
@quick
@given(st.lists(st.lists(st.one_of(typed, lengths), min_size=5, max_size=11), max_size=6), st.sampled_from(",;\t"))
def test_any_table_of_bodies_gets_a_standing_and_a_reason_for_every_line(cast, rows, separator):
    lines = [["2026-03-04", "Ada Fell", *row[:9]] if i % 2 else row for i, row in enumerate(rows)]
    text = BODIES.replace(",", separator) + "\n".join(separator.join(line) for line in lines)
    try:
        batch = read_in(cast, text.encode("utf-8", "surrogatepass"))
    except Refused as problem:
        assert str(problem)
        return
    assert all(reason for _, status, reason in outcome(batch) if status in ("ask", "skip", "guess"))
    counts = sums(batch)
    assert counts["rows"] == counts["taken"] + counts["fixed"] + counts["skipped"]
    take_in(batch)
    assert advance(batch.pk, 30).status in ("done", "refused")
    for m in Measurement.objects.all():
        assert measurement(m.key).limits.is_possible(m.value)
    if undo(batch, cast.stan) == "":
        advance(batch.pk, 30)
    assert not Measurement.objects.exists() and not LiftSet.objects.exists() and not TrainingDay.objects.exists()
