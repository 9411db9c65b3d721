"""Every row of fixtures/measurements/bad_measurements.csv: the exact message, at the form and on the page."""

import csv
import html
from datetime import date, timedelta
from pathlib import Path

import pytest
from django.urls import reverse

from athletes.measuring.forms import MeasuringForm
from athletes.measuring.services import measures_of
from athletes.models import Athlete, Measurement, MeasuringVisit
from athletes.units.builds import oddities
from athletes.units.lengths import read

FIXTURE = Path(__file__).resolve().parents[3] / "fixtures/measurements/bad_measurements.csv"
with FIXTURE.open(encoding="utf-8", newline="") as file:
    ROWS = list(csv.DictReader(file))
TODAY = date(2026, 6, 1)
LANDMARK = {"landmarks": "consent"}


def name(row: dict[str, str]) -> str:
    return f"{row['measure']} {row['typed']!a} {row['unit']} {row['stature']}".strip()


@pytest.fixture
def lifter(cast) -> Athlete:
    return Athlete.objects.create(
        club=cast.quarry, coach=cast.cato, name="Rowan Tester", sex="m", born=date(1990, 1, 1), standing="trained"
    )


def with_stature(athlete: Athlete, row: dict[str, str]) -> None:
    """An earlier visit that took the stature of the row."""
    if row["stature"]:
        visit = MeasuringVisit.objects.create(athlete=athlete, day=TODAY - timedelta(days=10))
        Measurement.objects.create(
            visit=visit, key="stature", typed=row["stature"], unit="cm", value=float(row["stature"])
        )


def posted(row: dict[str, str], **more: str) -> dict[str, str]:
    units = (
        {"length_unit": row["unit"], "mass_unit": "kg"}
        if row["unit"] != "kg"
        else {"length_unit": "cm", "mass_unit": "kg"}
    )
    return {"day": TODAY.isoformat(), f"{row['measure']}_1": row["typed"], **units, **LANDMARK, **more}


def test_there_are_at_least_forty_wrong_rows_and_all_three_outcomes():
    assert len([r for r in ROWS if r["outcome"] != "understood"]) >= 40
    assert {r["outcome"] for r in ROWS} == {"ask", "refuse", "understood"}


@pytest.mark.parametrize("row", ROWS, ids=name)
def test_the_reader_says_exactly_this(row):
    reading = read(row["measure"], row["typed"], row["unit"])
    message, choices = reading.message, bool(reading.choices)
    if reading.value is not None and row["stature"]:
        odd = oddities({"stature": float(row["stature"]), row["measure"]: reading.value}, "m", young=False)[0]
        message, choices = odd.message, bool(odd.token)
    if row["outcome"] == "understood":
        assert (reading.heard, f"{reading.value:.2f}") == (row["message"], row["value"])
    else:
        assert (message, choices) == (row["message"], row["outcome"] == "ask")


@pytest.mark.django_db
@pytest.mark.parametrize("row", ROWS, ids=name)
def test_the_page_says_it_keeps_what_was_typed_and_stores_nothing_unasked(row, lifter, signed_in):
    with_stature(lifter, row)
    before = Measurement.objects.count()
    answer = signed_in("cato").post(reverse("measure", args=[lifter.pk]), posted(row))
    if row["outcome"] == "understood":
        assert answer.status_code == 302
        stored = Measurement.objects.get(visit__athlete=lifter)
        assert f"{stored.value:.2f}" == row["value"]
        assert stored.typed == row["typed"].strip()
        return
    page = answer.content.decode()
    assert answer.status_code == 200
    assert html.escape(row["message"]) in page
    assert f'value="{html.escape(row["typed"])}"' in page
    assert Measurement.objects.count() == before


@pytest.mark.django_db
@pytest.mark.parametrize("row", [r for r in ROWS if r["outcome"] == "ask"], ids=name)
def test_a_confirmed_reading_is_stored_with_the_text_as_typed(row, lifter, signed_in):
    with_stature(lifter, row)
    url, client = reverse("measure", args=[lifter.pk]), signed_in("cato")
    form = client.post(url, posted(row)).context["form"]
    more = {}
    for box in form.row(row["measure"]).boxes:
        more |= {box.as_name: box.choices[0][0]} if box.choices else {}
    for question in form.row(row["measure"]).questions:
        more[question.name] = question.token
    assert client.post(url, posted(row, **more)).status_code == 302
    stored = Measurement.objects.get(visit__athlete=lifter, key=row["measure"])
    assert (stored.typed, f"{stored.value:.2f}") == (row["typed"], row["value"])


@pytest.mark.django_db
def test_a_choice_made_for_one_text_does_not_count_for_another(lifter, signed_in):
    url = reverse("measure", args=[lifter.pk])
    row = {"measure": "stature", "typed": "1.75", "unit": "cm"}
    answer = signed_in("cato").post(url, posted(row, stature_1_as="m:1.80"))
    assert "Read as 175 cm (1.75 m, not cm): is that right?" in answer.content.decode()
    assert not Measurement.objects.exists()


@pytest.mark.django_db
def test_the_length_of_one_arm_cannot_be_kept_as_a_span(lifter, signed_in):
    row = {"measure": "arm_span", "typed": "98", "unit": "cm", "stature": "210"}
    with_stature(lifter, row)
    answer = signed_in("cato").post(reverse("measure", args=[lifter.pk]), posted(row, arm_span_1_as="kept:98"))
    assert "that is the length of one arm" in answer.content.decode()
    assert set(measures_of(lifter, TODAY, with_mass=True)) == {"stature"}


@pytest.mark.django_db
def test_a_visit_saved_again_unchanged_does_not_drift_and_asks_nothing(lifter, cast, signed_in):
    client = signed_in("cato")
    row = {"measure": "stature", "typed": "1.80", "unit": "cm"}
    client.post(reverse("measure", args=[lifter.pk]), posted(row, stature_1_as="m:1.80"))
    visit = lifter.visits.get()
    form = MeasuringForm(lifter, cast.cato, visit, True)
    again = {n: form[n].value() or "" for n in form.fields}
    assert client.post(reverse("measure-edit", args=[lifter.pk, visit.pk]), again).status_code == 302
    stored = visit.measurements.get()
    assert (stored.typed, stored.unit, stored.value) == ("1.80", "m", 180.0)
