"""The handler's board: order, changes, repeats, results, re-planning, and what a phone sends, once."""

import json
import uuid

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from analysis.meets.board import cards, entries_of, lift_now
from analysis.meets.planning import plans_for
from analysis.meets.sums import lightest_to_pass, standings
from athletes.models import Attempt, HealthNote, MeetEntry
from tests.analysis.meets.meeting import FULL, TODAY, a_meet, attempt, enter, log_pulls, owner_of


@pytest.fixture
def ada(cast):
    return cast.athletes["ada"]


@pytest.fixture
def meet(cast):
    return a_meet(cast.quarry, days=0)


@pytest.fixture
def entry(meet, ada):
    log_pulls(ada)
    return enter(meet, ada, lot=4)


def board_url(entry, tail="board/"):
    return f"/meets/{entry.meet_id}/{tail}"


def say(client, entry, number, load, **more):
    data = {"lift": "deadlift", "number": number, "load_typed": load, "load_unit": "kg", "saw": "", **more}
    return client.post(f"/meets/{entry.meet_id}/entries/{entry.pk}/attempts/", data, follow=True)


def queued(who, load="130", **more):
    base = {
        "uid": str(uuid.uuid4()), "kind": "attempt", "entry": who.pk, "lift": "deadlift", "number": 1,
        "load_typed": load, "load_unit": "kg", "result": "", "reason": "", "saw": "",
    }  # fmt: skip
    return {**base, **more}


def send(client, cast, user, *entries):
    body = {"user": user.pk, "club": cast.quarry.pk, "entries": entries}
    answer = client.post("/floor/entries/", json.dumps(body), content_type="application/json")
    return [one["status"] for one in answer.json()["done"]]


def card_of(entry, lift="deadlift"):
    rows = entries_of(entry.meet)
    return next(
        one for one in cards(entry.meet, rows, plans_for(rows, owner_of(entry)), lift) if one.entry.pk == entry.pk
    )


def test_the_lifters_stand_in_their_order_of_lifting(signed_in, cast, entry):
    rival = MeetEntry.objects.create(meet=entry.meet, rival_name="Quill Harden", lot=2)
    petra = enter(entry.meet, cast.athletes["petra"], lot=9)
    attempt(entry, 1, 130), attempt(rival, 1, 130), attempt(petra, 1, 120, "made"), attempt(petra, 2, 125)
    page = signed_in("stan").get(board_url(entry)).content.decode().split('id="meet-board"')[1]
    # a round is finished first, then the lighter bar, then the lot number
    assert page.index("Quill Harden") < page.index("Ada Fell") < page.index("Petra Moss")
    assert "Lifts next." in page and "2 before." in page


def test_handing_in_and_lifting_by_plain_form(signed_in, entry):
    stan = signed_in("stan")
    assert "kept" in say(stan, entry, 1, "130").content.decode()
    say(stan, entry, 1, "130", result="missed", reason="at-knee", saw="130 kg||")
    row = Attempt.objects.get()
    assert (row.result, row.reason) == ("missed", "at-knee") and row.declared_at and row.ended_at
    assert "The same load may be called again." in stan.get(board_url(entry)).content.decode()
    assert entry.athlete.audit.filter(action="meet attempt").count() == 2


@pytest.mark.parametrize(
    ("number", "load", "said"),
    [(2, "127.5", "at least 132.5 kg"), (2, "133", "not a multiple of 2.5 kg"), (2, "lots", "Load “lots”"),
     (2, "", "not a number"), (9, "140", "less than or equal to 4")],
)  # fmt: skip
def test_what_the_rule_set_forbids_is_said_and_nothing_is_lost(signed_in, entry, number, load, said):
    attempt(entry, 1, 130, "made")
    page = say(signed_in("stan"), entry, number, load).content.decode()
    assert said in page and "nothing is kept yet" in page and Attempt.objects.count() == 1
    if load:
        assert f'value="{load}"' in page


def test_the_officials_have_the_last_word(signed_in, entry):
    attempt(entry, 1, 130, "made")
    say(signed_in("stan"), entry, 2, "131", knowing="on")
    assert Attempt.objects.get(number=2).load_kg == 131


def test_changes_are_counted_and_run_out_by_the_rule_set(signed_in, entry):
    stan = signed_in("stan")
    say(stan, entry, 1, "130")
    assert card_of(entry).changes_left == 1
    say(stan, entry, 1, "132.5", saw="130 kg||")
    assert Attempt.objects.get().changes == 1 and card_of(entry).changes_left == 0
    page = say(stan, entry, 1, "135", saw="132.5 kg||").content.decode()
    assert "may be changed 1 times, and that is used up" in page and Attempt.objects.get().load_kg == 132.5


def test_a_plan_that_is_handed_in_is_no_change(signed_in, entry):
    attempt(entry, 1, 130, handed_in=False)
    say(signed_in("stan"), entry, 1, "127.5", saw="130 kg||")
    row = Attempt.objects.get()
    assert row.changes == 0 and row.declared_at and row.load_kg == 127.5


def test_after_each_result_the_rest_is_planned_again(signed_in, entry):
    fresh = card_of(entry).suggestions
    assert [s.name for s in fresh] == ["main", "safer", "bolder"]
    opener = fresh[0].load_kg
    attempt(entry, 1, opener, "missed")
    missed = card_of(entry)
    assert missed.repeats and missed.suggestions[0].load_kg == opener
    Attempt.objects.update(result="made")
    made = card_of(entry)
    assert not made.repeats and made.suggestions[0].load_kg == fresh[0].if_made_kg > opener
    assert f"{made.suggestions[0].load_kg:g} kg" in signed_in("stan").get(board_url(entry)).content.decode()


def test_after_an_attempt_that_was_not_tried_nothing_is_suggested(entry):
    attempt(entry, 1, 130, "not-tried")
    assert card_of(entry).suggestions == ()


def test_a_careful_plan_is_walked_along_and_never_left(entry, ada):
    ada.standing = "beginner"
    ada.save()
    first = card_of(entry).suggestions
    assert [s.name for s in first] == ["careful"]
    attempt(entry, 1, first[0].load_kg, "made")
    assert card_of(entry).suggestions[0].load_kg == first[0].if_made_kg
    Attempt.objects.update(load_kg=first[0].load_kg + 10)
    assert card_of(entry).suggestions == ()


def test_a_phone_sends_each_entry_once_however_often(signed_in, cast, entry):
    stan, one = signed_in("stan"), queued(entry)
    two = queued(entry, result="made", saw="130 kg||")
    assert send(stan, cast, cast.stan, one, two) == ["stored", "stored"]
    assert send(stan, cast, cast.stan, one, two) == ["already", "already"]  # the answer was lost, so it is sent again
    row = Attempt.objects.get()
    assert row.result == "made" and row.changes == 0


def test_another_handlers_word_is_shown_not_overwritten(signed_in, cast, entry):
    assert send(signed_in("bea"), cast, cast.bea, queued(entry, load="135")) == ["stored"]
    mine = queued(entry, load="130")
    assert send(signed_in("stan"), cast, cast.stan, mine) == ["conflict"]
    assert Attempt.objects.get().load_kg == 135
    assert send(signed_in("stan"), cast, cast.stan, {**mine, "sure": True}) == ["stored"]
    assert Attempt.objects.get().load_kg == 130
    page = say(signed_in("stan"), entry, 1, "135", result="made", saw="135 kg||").content.decode()
    assert "stands as 130 kg" in page and Attempt.objects.get().load_kg == 130


def test_the_same_word_of_two_handlers_is_no_conflict(signed_in, cast, entry):
    assert send(signed_in("bea"), cast, cast.bea, queued(entry)) == ["stored"]
    assert send(signed_in("stan"), cast, cast.stan, queued(entry)) == ["already"]


def test_a_result_can_be_undone(signed_in, cast, entry):
    attempt(entry, 1, 130, "missed", reason="lockout")
    assert send(signed_in("stan"), cast, cast.stan, queued(entry, saw="130 kg|missed|lockout")) == ["stored"]
    row = Attempt.objects.get()
    assert (row.result, row.reason, row.ended_at) == ("", "", None) and row.declared_at


@pytest.mark.parametrize(
    "odd",
    [{"lift": "row"}, {"number": 0}, {"number": "2"}, {"number": True}, {"result": "won"}, {"load_typed": "9999"},
     {"load_typed": None}, {"entry": 10**30}, {"entry": "1"}, {"load_typed": {"a": 1}}, {"uid": "x"}],
)  # fmt: skip
def test_odd_entries_are_refused_with_a_reason(signed_in, cast, entry, odd):
    assert send(signed_in("stan"), cast, cast.stan, queued(entry, **odd)) == ["refused"]
    assert not Attempt.objects.exists()


def test_nobody_handles_lifters_of_another_club_or_as_an_athlete(signed_in, cast, entry):
    foreign = enter(a_meet(cast.harbour), cast.athletes["hugo"])
    assert send(signed_in("stan"), cast, cast.stan, queued(foreign)) == ["refused"]
    body = {"user": cast.ada.pk, "club": cast.quarry.pk, "entries": [queued(entry)]}
    assert (
        signed_in("ada").post("/floor/entries/", json.dumps(body), content_type="application/json").status_code == 404
    )
    assert say(signed_in("ada"), entry, 1, "130").status_code == 403
    assert not Attempt.objects.exists()


def test_a_stop_for_pain_reads_as_not_tried_to_those_who_may_not_read_health(signed_in, entry):
    attempt(entry, 1, 130, "stopped-pain")
    for url in (board_url(entry), board_url(entry, "state/")):
        told = signed_in("stan").get(url).content.decode().split("<main")[-1].split("<footer")[0]
        told = told.replace('"stopped-pain": "stopped (pain)"', "").replace('value="stopped-pain"', "")
        assert '"stopped-pain"' not in told and "|stopped-pain|" not in told
    assert '"stopped-pain"' in signed_in("cato").get(board_url(entry, "state/")).content.decode()


def test_pain_in_the_notes_is_not_told_by_the_board(signed_in, entry, ada):
    HealthNote.objects.create(athlete=ada, kind="pain", site="lower-back", noted_on=TODAY)
    state = signed_in("stan").get(board_url(entry)).content.decode()
    assert "lower-back" not in state and "noted" not in state.split("meet-state")[1]


def test_the_state_of_an_open_board_is_cheap(signed_in, cast, entry, django_assert_max_num_queries):
    enter(entry.meet, cast.athletes["petra"])
    attempt(entry, 1, 130)
    client = signed_in("stan")
    with django_assert_max_num_queries(9):
        told = client.get(board_url(entry, "state/")).json()
    assert told["entries"][str(entry.pk)][0]["load_kg"] == 130


def test_the_lift_under_way_is_shown_first(cast, ada):
    meet = a_meet(cast.quarry, lifts=FULL)
    mine = enter(meet, ada)
    for number in (1, 2, 3):
        attempt(mine, number, 100, "made", "squat")
    attempt(mine, 1, 60, "made", "bench")
    assert lift_now(meet, entries_of(meet)) == "bench"


def test_a_typed_subtotal_stands_where_lifts_are_not_entered(cast, ada):
    meet = a_meet(cast.quarry, lifts=FULL)
    rival = MeetEntry.objects.create(meet=meet, rival_name="Quill", subtotal_kg=262.5)
    attempt(rival, 1, 200, "made")
    assert standings(meet, entries_of(meet))[0].total_kg == 462.5
    assert lightest_to_pass(260, 462.5, 2.5) == 205 and lightest_to_pass(262.5, 462.5, 2.5) == 202.5


def test_a_fourth_attempt_stays_outside_the_total(cast, ada):
    meet = a_meet(cast.quarry, rule_set={"attempts": 4})
    mine = enter(meet, ada)
    for number, kg in ((1, 130), (2, 135), (3, 140), (4, 150)):
        attempt(mine, number, kg, "made")
    assert standings(meet, entries_of(meet))[0].total_kg == 140


def test_an_empty_board_says_what_to_do(signed_in, meet):
    assert "Enter the lifters" in signed_in("stan").get(f"/meets/{meet.pk}/board/").content.decode()


def test_wrong_verbs_are_refused(signed_in, entry):
    stan = signed_in("stan")
    assert stan.post(board_url(entry)).status_code == 405 and stan.post(board_url(entry, "state/")).status_code == 405
    assert stan.get(f"/meets/{entry.meet_id}/entries/{entry.pk}/attempts/").status_code == 405


TEXT = st.text(st.characters(exclude_categories=["Cs"]), max_size=30)
FIELDS = st.sampled_from(["lift", "number", "load_typed", "load_unit", "result", "reason", "saw", "knowing"])


@settings(max_examples=40, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(st.dictionaries(FIELDS, TEXT))
def test_any_text_about_an_attempt_gets_an_answer(signed_in, entry, odd):
    data = {"lift": "deadlift", "number": "1", "load_typed": "130", **odd}
    url = f"/meets/{entry.meet_id}/entries/{entry.pk}/attempts/"
    assert signed_in("stan").post(url, data).status_code in (200, 302)
