"""How a lifter stands: what is stored, who may write, what is kept, and what a wrong entry says."""

from datetime import date, timedelta

import pytest
from django.urls import reverse
from django.utils import timezone

from athletes.models import AuditEntry, Posture

DAY = date(2026, 11, 20)


@pytest.fixture
def ada(cast):
    return cast.athletes["ada"]


def entry(**typed: str) -> dict[str, str]:
    return {"style": "sumo", "day": DAY.isoformat(), "source": "tape", "heels_unit": "cm", **typed}


def address(athlete) -> str:
    return reverse("posture", args=[athlete.pk])


def test_staff_enter_what_they_saw_and_it_is_kept_as_typed(cast, signed_in, ada):
    typed = entry(heels_typed="24 1/2", heels_unit="in", turnout_deg="42", bar_over="middle", knees="early")
    assert signed_in("stan").post(address(ada), typed).status_code == 302
    row = Posture.objects.get()
    assert (row.heels_typed, row.heels_unit, row.heels_cm) == ("24 1/2", "in", pytest.approx(62.23))
    assert (row.turnout_deg, row.bar_over, row.arms, row.knees, row.author) == (42, "middle", "", "early", cast.stan)
    assert AuditEntry.objects.get(athlete=ada, action="added").after["heels_typed"] == "24 1/2"
    page = signed_in("ada").get(address(ada)).content.decode()
    assert (
        "62.2 cm" in page
        and "20 Nov 2026, by tape" in page
        and "</strong>, by tape, Stan" in page
        and "early, before the hips" in page
    )
    assert "Save what was seen" not in page and '<th scope="col">Conventional' not in page


def test_a_new_entry_counts_thing_by_thing_and_the_old_one_stays(signed_in, ada):
    client = signed_in("cato")
    client.post(address(ada), entry(heels_typed="60", arms="ahead"))
    client.post(address(ada), entry(heels_typed="66", day=(DAY + timedelta(days=3)).isoformat()))
    sumo = next(s for s in client.get(address(ada)).context["styles"] if s.style == "sumo")
    assert [(s.words, s.day) for s in sumo.seen if s.words] == [
        ("66 cm", DAY + timedelta(days=3)),
        ("shoulders ahead of the bar", DAY),
    ]
    assert len(sumo.entries) == 2 and sumo.seen[1].words == ""


def test_the_heading_is_the_stances(signed_in, ada):
    assert "How Ada Fell stands is not measured yet" in signed_in("cato").get(address(ada)).content.decode()
    signed_in("cato").post(address(ada), entry(heels_typed="60"))
    assert "<h1>Ada Fell stands 60 cm in sumo</h1>" in signed_in("cato").get(address(ada)).content.decode()
    assert "<h1>You stand 60 cm in sumo</h1>" in signed_in("ada").get(address(ada)).content.decode()


def test_the_reader_sees_their_unit(cast, signed_in, ada):
    Posture.objects.create(athlete=ada, style="sumo", day=DAY, source="tape", heels_typed="66", heels_unit="cm",
                           heels_cm=66.0)  # fmt: skip
    cast.cato.length_unit = "in"
    cast.cato.save()
    page = signed_in("cato").get(address(ada))
    assert "26 in" in page.content.decode() and "typed 66 cm" in page.content.decode()
    assert page.context["form"]["heels_unit"].value() == "in"


@pytest.mark.parametrize(
    ("typed", "says"),
    [
        ({}, "one of the six is enough"),
        ({"heels_typed": "wide"}, "is not one length"),
        ({"heels_typed": "3"}, "outside 4 to 140 cm from heel middle to heel middle"),
        ({"heels_typed": "141"}, "outside 4 to 140 cm"),
        ({"turnout_deg": "81"}, "outside 0 to 80 degrees"),
        ({"heels_typed": "60", "day": "2199-01-01"}, "lies ahead"),
        ({"heels_typed": "60", "day": "1990-01-01"}, "too long ago"),
        ({"heels_typed": "60", "style": "split"}, "not one of the available choices"),
        ({"heels_typed": "60", "source": ""}, "required"),
    ],
)
def test_a_wrong_entry_says_why_and_keeps_what_was_typed(signed_in, ada, typed, says):
    answer = signed_in("cato").post(address(ada), entry(note="second set", **typed))
    assert answer.status_code == 200 and says in answer.content.decode() and "second set" in answer.content.decode()
    assert not Posture.objects.exists()


def test_an_entry_is_corrected_and_removed_and_the_trail_keeps_both(cast, signed_in, ada):
    row = Posture.objects.create(athlete=ada, style="sumo", day=DAY, source="eye", turnout_deg=30, author=cast.stan)
    at, client = reverse("posture-edit", args=[ada.pk, row.pk]), signed_in("cato")
    assert client.get(at).context["form"]["turnout_deg"].value() == "30"
    assert client.post(at, entry(turnout_deg="35", source="eye")).status_code == 302
    corrected = AuditEntry.objects.get(athlete=ada, action="corrected")
    assert (corrected.before, corrected.after) == ({"turnout_deg": 30}, {"turnout_deg": 35})
    row.refresh_from_db()
    assert row.author == cast.stan
    assert client.post(at, {"delete": "1"}).status_code == 302 and not Posture.objects.exists()
    assert AuditEntry.objects.get(athlete=ada, action="deleted").before["turnout_deg"] == 35


def test_an_athlete_reads_and_does_not_write(signed_in, ada):
    assert signed_in("ada").post(address(ada), entry(heels_typed="60")).status_code == 403
    row = Posture.objects.create(athlete=ada, style="sumo", day=DAY, source="eye", turnout_deg=30)
    assert signed_in("ada").get(reverse("posture-edit", args=[ada.pk, row.pk])).status_code == 403


def test_another_lifters_entry_is_not_found(cast, signed_in, ada):
    row = Posture.objects.create(athlete=cast.athletes["ivo"], style="sumo", day=DAY, source="eye", turnout_deg=30)
    assert signed_in("cato").get(reverse("posture-edit", args=[ada.pk, row.pk])).status_code == 404


@pytest.mark.parametrize("verb", ["put", "delete"])
def test_other_verbs_are_refused(signed_in, ada, verb):
    assert getattr(signed_in("cato"), verb)(address(ada)).status_code == 405


def test_a_growing_lifter_is_to_be_looked_at_again_after_three_months(cast, signed_in, ada):
    for name in ("ivo", "ada"):
        day = timezone.localdate() - timedelta(days=93)
        Posture.objects.create(athlete=cast.athletes[name], style="sumo", day=day, source="eye", turnout_deg=30)
    client = signed_in("cato")
    assert "look again" in client.get(address(cast.athletes["ivo"])).content.decode()
    assert "look again" not in client.get(address(ada)).content.decode()


def test_the_style_asked_for_stands_in_the_form(signed_in, ada):
    assert signed_in("cato").get(address(ada), {"style": "wide-sumo"}).context["form"]["style"].value() == "wide-sumo"
    assert signed_in("cato").get(address(ada), {"style": "<b>"}).status_code == 200
