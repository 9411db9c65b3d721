"""The leverage page: styles side by side for one athlete."""

import json
import re
from datetime import date

import pytest

from athletes.models import FirstMeeting, LiftSet, StyleRecord
from athletes.models.choices import Standing
from tests.analysis.measured import back_pain, measure


@pytest.fixture
def ada(cast):
    measure(cast.athletes["ada"])
    return cast.athletes["ada"]


def address(athlete, page=""):
    return f"/athletes/{athlete.pk}/leverages/{page}"


def text_of(answer):
    return answer.content.decode().replace("\u00a0", " ").replace("&nbsp;", " ")


def test_a_coach_sees_two_styles_on_one_floor_the_answer_and_closed_lines(signed_in, ada):
    text = text_of(signed_in("cato").get(address(ada)))
    assert re.search(r'<h1 class="answer">Sumo at \d+ cm: pull \d cm shorter', text)
    assert text.count('class="figure-svg posture pair') == 3  # two lifters and the chart
    assert text.count("<details") == text.count("<summary>") and "<details open" not in text
    for style in ("Conventional", "Sumo", "Wide sumo", "Rounded"):
        assert f">{style}</" in text
    assert "Sumo against conventional, at lift-off:" in text
    assert "Hip-to-bar distance (moment arm)" in text


def test_the_difference_of_the_pull_is_that_of_the_two_ends_beside_it(signed_in, ada):
    text = text_of(signed_in("cato").get(address(ada)))
    first, second = map(int, re.search(r"Pull, cm</span><strong>(\d+) → (\d+)", text).groups())
    assert f"pull {first - second} cm shorter" in text


def test_the_style_pulled_most_stands_first(signed_in, ada):
    LiftSet.objects.create(
        athlete=ada, day=date(2026, 3, 3), style="sumo", load_typed="130", load_unit="kg", load_kg=130.0
    )
    text = text_of(signed_in("cato").get(address(ada)))
    assert re.search(r'<h1 class="answer">Conventional at \d+ cm: pull \d cm longer', text)


def test_an_athlete_reads_you(signed_in, ada):
    text = text_of(signed_in("ada").get(address(ada) + "?style=conventional"))
    assert "hips and pull about the same" in text
    assert "How you stand decides" not in text


def test_the_bar_can_be_asked_for_at_the_knee_and_at_lockout_without_script(signed_in, ada):
    client = signed_in("cato")
    pictures = {at: text_of(client.get(address(ada), {"at": at})) for at in ("", "knee", "lockout", "nowhere")}
    assert "Sumo at lift-off, side view" in pictures[""] and "Sumo at lift-off, side view" in pictures["nowhere"]
    assert "Sumo at lockout, side view" in pictures["lockout"] and "Sumo in the pull, side view" in pictures["knee"]


@pytest.mark.parametrize(("curve", "title"), [("leg-work", "work for the legs, %"), ("trunk", "trunk up, °")])
def test_the_chart_shows_what_is_chosen_and_never_newton_metres(signed_in, ada, curve, title):
    text = text_of(signed_in("cato").get(address(ada), {"curve": curve, "part": "1"}))
    assert f">{title}</text>" in text
    assert "N m" not in text


def test_ghosts_are_drawn_when_asked_for(signed_in, ada):
    client = signed_in("cato")
    assert 'class="ghost"' not in text_of(client.get(address(ada)))
    assert text_of(client.get(address(ada), {"ghosts": "1"})).count('class="ghost"') == 20


def test_a_stranger_finds_no_such_athlete(signed_in, ada):
    assert signed_in("olga").get(address(ada)).status_code == 404
    assert signed_in(None).get(address(ada)).status_code == 302


def test_the_page_reads_and_never_writes(signed_in, ada):
    assert signed_in("cato").post(address(ada)).status_code == 405
    assert signed_in("cato").post(address(ada, "frames/")).status_code == 405


def test_without_a_stature_the_page_says_what_to_measure_and_why(signed_in, cast):
    text = text_of(signed_in("cato").get(address(cast.athletes["petra"])))
    assert "Four lengths with a tape, five minutes" in text
    assert "Standing grip height" in text
    assert "figure-svg" not in text


def test_measurements_that_cannot_be_one_body_are_named_not_hidden(signed_in, cast):
    measure(cast.athletes["petra"], stature=166.0, sitting_height=160.0)
    answer = signed_in("cato").get(address(cast.athletes["petra"]))
    assert answer.status_code == 200
    assert "cannot belong to one body: sitting" in text_of(answer)


def test_turning_forces_are_in_newton_metres_only_for_who_may_see_the_mass(signed_in, ada):
    assert re.search(r"\d N m", text_of(signed_in("cato").get(address(ada))))
    for name in ("stan", "bea"):
        text = text_of(signed_in(name).get(address(ada)))
        assert not re.search(r"\d N m", text)
        assert "conventional = 100 %" in text
        assert '"text":"N m"' not in text.replace(" ", " ")


def test_an_athlete_who_hides_the_mass_sees_shares(signed_in, ada):
    assert re.search(r"\d N m", text_of(signed_in("ada").get(address(ada))))
    ada.hide_mass_from_athlete = True
    ada.save()
    assert not re.search(r"\d N m", text_of(signed_in("ada").get(address(ada))))


@pytest.mark.parametrize("why", ["beginner", "minor by age", "under 18", "back pain"])
def test_rounded_is_absent_where_it_must_not_be_explained(signed_in, ada, why):
    if why == "back pain":
        back_pain(ada)
    elif why == "minor by age":
        ada.born = date(2015, 1, 1)
    else:
        ada.standing = {"beginner": Standing.BEGINNER, "under 18": Standing.UNDER_18}[why]
    ada.save()
    text = text_of(signed_in("cato").get(address(ada)))
    assert "ounded" not in re.sub(r"<(link|script)[^>]*>", "", text)
    asked = text_of(signed_in("cato").get(address(ada), {"style": "rounded"}))
    assert "Select a valid choice" in asked and "ounded back" not in asked


def test_the_first_meeting_pulls_the_wide_stance_in_and_says_so(signed_in, ada):
    FirstMeeting.objects.create(athlete=ada, stance_typed="85", stance_cm=85.0, turnout_deg=35.0, hip_pinch=True)
    text = text_of(signed_in("cato").get(address(ada)))
    assert "Wide sumo is drawn at 85 cm between the ankles" in text
    assert "where the hip pinched" in text


def test_a_stance_that_leaves_no_room_for_a_style_leaves_it_out(signed_in, ada):
    FirstMeeting.objects.create(athlete=ada, stance_typed="36", stance_cm=36.0)
    text = text_of(signed_in("cato").get(address(ada)))
    assert "Sumo is left out: the widest comfortable stance" in text
    assert "<h3>Sumo</h3>" not in text


def test_lengths_are_written_in_the_readers_unit(signed_in, ada, cast):
    cast.cato.length_unit = "in"
    cast.cato.save()
    text = text_of(signed_in("cato").get(address(ada)))
    assert re.search(r"\d in \(", text)
    assert not re.search(r">\d+(\.\d)? cm<", text)


def test_the_load_is_the_heaviest_pull_known(signed_in, ada):
    StyleRecord.objects.create(athlete=ada, style="sumo", years=1, best_typed="120", best_unit="kg", best_kg=120.0)
    assert "for 120 kg (the best told at the first meeting)" in text_of(signed_in("cato").get(address(ada)))
    LiftSet.objects.create(athlete=ada, day=date(2026, 3, 3), load_typed="130", load_unit="kg", load_kg=130.0)
    assert "for 130 kg (the heaviest pull in the log)" in text_of(signed_in("cato").get(address(ada)))


def test_no_ratio_of_styles_or_best_stance_is_predicted(signed_in, ada):
    text = text_of(signed_in("cato").get(address(ada))).lower()
    for forecast in ("best stance", "predicted", "would lift", "sumo / conventional", "% of the conventional best"):
        assert forecast not in text
    assert "a trial decides" in text


def test_frames_hold_both_styles_and_the_heights_of_their_pulls(signed_in, ada):
    frames = json.loads(signed_in("cato").get(address(ada, "frames/")).content)
    first, second = frames["styles"]["first"], frames["styles"]["second"]
    assert first["ends"][0] == pytest.approx(22.5) and first["ends"][1] > second["ends"][1] > 60.0
    assert first["ends"][0] < first["knee"] < first["ends"][1]
    assert {"bar", "knee-words", "dot-first"} <= first["parts"].keys()


def test_frames_of_a_moved_style_are_of_the_moved_style(signed_in, ada):
    client = signed_in("cato")
    narrow, wide = (
        json.loads(client.get(address(ada, "frames/"), {"style": "sumo", "stance": s}).content) for s in ("50", "80")
    )
    assert narrow["styles"]["second"]["ends"][1] > wide["styles"]["second"]["ends"][1]
    assert narrow["styles"]["first"]["ends"] == wide["styles"]["first"]["ends"]


def test_the_curves_have_a_page_of_their_own_with_tables_and_front_views(signed_in, ada):
    text = text_of(signed_in("cato").get(address(ada, "curves/")))
    assert text.count("data-plot=") == text.count("data-table=") == text.count('<p id="caption-pull-') == 7
    assert text.count("from the front at lift-off: stance") == 4
    assert signed_in("cato").post(address(ada, "curves/")).status_code == 405
    assert signed_in("olga").get(address(ada, "curves/")).status_code == 404


def test_lengths_of_a_growing_lifter_go_stale(signed_in, cast):
    measure(cast.athletes["ivo"], date(2020, 1, 1))
    measure(cast.athletes["ada"], date(2020, 1, 1))
    assert "still growing" in text_of(signed_in("cato").get(address(cast.athletes["ivo"])))
    assert "still growing" not in text_of(signed_in("cato").get(address(cast.athletes["ada"])))
