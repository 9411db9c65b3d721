"""The measuring sheet and the stills answer first: a heading, a ground and one button in every state."""

import re

import pytest

from athletes.measuring.answer import FLOOR, UNITS_PER_CM, heading_of, lengths_picture
from athletes.models import Picture, Posture
from tests.analysis.measured import FOUR, measure


def parts(page: str) -> tuple[str, str, str, str]:
    """Heading, ground, words of the button and where it leads."""
    plain = page.replace("&#x27;", "'")
    found = re.search(r'<h1 class="answer">([^<]*)</h1><p class="ground">([^<]*)</p>', plain)
    button = re.search(r'class="button do" href="([^"]*)">([^<]*)<', plain)
    assert found
    return found[1], found[2], button[2] if button else "", button[1] if button else ""


def sheet(client, athlete):
    return parts(client.get(f"/athletes/{athlete.pk}/build/").content.decode())


def test_each_state_of_the_sheet_leads_on(signed_in, cast):
    ada, coach = cast.athletes["ada"], signed_in("cato")
    heading, ground, button, leads = sheet(coach, ada)
    assert (heading, button, leads) == ("Four lengths first", "Measure", f"/athletes/{ada.pk}/build/new/")
    assert "five minutes" in ground
    measure(ada, stature=166.0, arm_span=172.0)
    heading, ground, button, _ = sheet(coach, ada)
    assert (heading, button) == ("Arm span 6.0 cm over the stature", "Measure")
    assert "Missing: sitting height" in ground
    measure(ada, **FOUR)
    heading, ground, button, leads = sheet(coach, ada)
    assert (button, leads) == ("Measure stance and toes", f"/athletes/{ada.pk}/posture/")
    assert "Sitting height is 53 % of the stature" in ground
    Posture.objects.create(athlete=ada, style="sumo", day="2026-03-04", source="tape", heels_cm=60.0)
    assert sheet(coach, ada)[2] == "Add a lift-off still"


def test_who_may_not_measure_is_led_to_how_it_is_done(signed_in, cast):
    assert sheet(signed_in("ada"), cast.athletes["ada"])[2] == "How it is measured"


@pytest.mark.parametrize(
    ("span", "words"),
    [(166.8, "Arm span and stature are alike"), (160.0, "Arm span 6.0 cm under the stature"),
     (167.0, "Arm span 1.0 cm over the stature")],
)  # fmt: skip
def test_the_span_is_held_against_the_stature(span, words):
    assert heading_of({"stature": 166.0, "arm_span": span}, "cm") == words


def test_the_lengths_stand_on_one_floor_to_one_scale():
    drawn = str(lengths_picture({"stature": 170.0, "standing_grip_height": 74.0}, "in"))
    tops = {m[0]: float(m[1]) for m in re.findall(r"M([\d.]+),250.0V([\d.]+)", drawn)}
    assert tops == {
        "40.0": pytest.approx(FLOOR - 170 * UNITS_PER_CM),
        "285.0": pytest.approx(FLOOR - 74 * UNITS_PER_CM),
    }
    assert "66.9 in" in drawn and lengths_picture({"arm_span": 170.0}, "cm") == ""


def stills(client, athlete):
    return parts(client.get(f"/athletes/{athlete.pk}/pictures/").content.decode())


def test_each_state_of_the_stills_leads_on(signed_in, cast):
    ada, coach = cast.athletes["ada"], signed_in("cato")
    heading, ground, button, leads = stills(coach, ada)
    assert (heading, button, leads) == ("No still yet", "Add a still", "#add")
    assert ground.startswith("Three stills from the side, slightly behind")
    still = Picture.objects.create(athlete=ada, taken_on="2026-03-04", file="one.jpg")
    heading, _, button, leads = stills(coach, ada)
    assert (heading, button, leads) == (
        "1 still, 0 marked",
        "Mark the next",
        f"/athletes/{ada.pk}/pictures/{still.uid}/",
    )
    still.marks = {"hip": [0.1, 0.5], "shoulder": [0.4, 0.2], "bar": [0.5, 0.7]}
    still.save()
    assert stills(coach, ada)[::2] == ("1 still, all marked", "Add a still")


def test_of_a_minor_without_consent_only_the_consent_is_offered(signed_in, cast):
    heading, _, button, _ = stills(signed_in("cato"), cast.athletes["ivo"])
    assert heading == "Under 18: a guardian's consent first" and button == "Record a consent"
    page = signed_in("stan").get(f"/athletes/{cast.athletes['ivo'].pk}/pictures/").content.decode()
    assert "button do" not in page and 'type="file"' not in page
