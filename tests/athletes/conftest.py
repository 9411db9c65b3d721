"""Athletes with a full log, and with something in every part of a copy."""

import io

import pytest
from django.core.files.base import ContentFile
from PIL import Image

from athletes.models import Athlete, Bar, HealthNote, Measurement, MeasuringVisit, Picture, TrainingDay, Trial
from tests.athletes.exporting.copies import log


@pytest.fixture
def full_log(cast) -> Athlete:
    """Sets that use every column, with text that a spreadsheet would run."""
    ada = cast.athletes["ada"]
    bar = Bar.objects.create(club=cast.quarry, name="=Old bar", kind="stiff")
    log(
        ada,
        style="sumo",
        effort_typed="@8,5",
        rir_low=1.5,
        rir_high=1.5,
        bar=bar,
        bar_kind="stiff",
        grip="hook",
        straps=True,
        belt=True,
        note='=HYPERLINK("x")',
    )
    log(
        ada,
        order=2,
        load_typed="405",
        load_unit="lb",
        load_kg=405 * 0.45359237,
        start="block",
        start_typed="4",
        start_unit="in",
        start_cm=10.16,
        note="-5 kg next time, 'quoted'\nsecond line",
    )
    log(
        ada,
        order=3,
        load_typed="200",
        load_kg=200.0,
        reps_made=0,
        reps_tried=1,
        result="missed",
        miss_position="below-knee",
        second_position="at-knee",
        gave_way="back-rounded",
        shape="rounded-during",
        shape_region="upper",
        disc_diameter_cm=42.5,
        pull_seconds=4.25,
    )
    log(
        ada,
        order=4,
        load_typed="190",
        load_kg=190.0,
        reps_made=0,
        reps_tried=1,
        result="no-lift",
        rule_reason="not-erect",
        suit=True,
        dead_stop=False,
        paused=True,
        is_test=True,
    )
    log(
        ada,
        order=5,
        load_typed="190",
        load_kg=190.0,
        lift="front-squat",
        depth_verified=True,
        slowest_at="mid-thigh",
        what_changed="grip-opened",
        in_new_style="partly",
        note="'=x",
    )
    log(ada, order=6, load_typed="190", load_kg=190.0, lift="other", note="hip thrust", effort_typed="easy")
    log(ada, order=6, load_typed="190", load_kg=190.0, lift="other", note="hip thrust", effort_typed="easy")
    return ada


@pytest.fixture
def whole_life(cast, full_log) -> Athlete:
    """Something in every part of a copy."""
    trial = Trial.objects.create(
        athlete=full_log, new_style="sumo", old_style="conventional", started_on="2026-01-01", decide_on="2026-04-01"
    )
    full_log.sets.filter(order=1).update(trial=trial)
    full_log.decisions.create(trial=trial, on="2026-03-01", verdict="extend", reasons="Too early to say.")
    TrainingDay.objects.create(
        athlete=full_log, day="2026-03-04", mass_typed="71,1", mass_unit="kg", mass_kg=71.1, soreness=3
    )
    HealthNote.objects.create(
        athlete=full_log, kind="pain", site="hip", severity=4, noted_on="2026-03-01", text="left side"
    )
    full_log.postures.create(style="sumo", day="2026-02-01", source="tape", heels_typed="24 in", heels_unit="in",
                             heels_cm=60.96, turnout_deg=40, back="flat", note="third set")  # fmt: skip
    visit = MeasuringVisit.objects.create(athlete=full_log, day="2026-01-05")
    Measurement.objects.create(visit=visit, key="stature", typed="5'11", unit="in", value=180.34)
    picture = io.BytesIO()
    Image.new("RGB", (40, 30), "white").save(picture, "JPEG")
    row = Picture(athlete=full_log, taken_on="2026-03-04", lift_set=full_log.sets.first(), marks={"hip": [0.5, 0.5]})
    row.file.save("x.jpg", ContentFile(picture.getvalue()))
    return full_log


@pytest.fixture
def ada(cast):
    return cast.athletes["ada"]
