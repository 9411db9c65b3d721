"""The page of the one answer: works for every state, private reasons stay private, numbers in the reader's units."""

from datetime import date, timedelta

import pytest
from django.urls import reverse

from analysis.core.decision.answer import answers
from analysis.core.records.decision import State
from analysis.core.records.messages import HEALTH, Message, Private, Quantity, Unit
from analysis.decision.leads import LEADS
from analysis.decision.page import LINE_NAMES
from analysis.text.decision import TEXTS
from analysis.text.say import Reader, say, say_all, show
from athletes.models import FirstMeeting, HealthNote, LiftSet, TrainingDay
from tests.core.decision.facts import ONE_FOR_EACH_STATE

COACH = Reader(allowed=frozenset(Private), name="Ada")
STAFF = Reader(name="Ada")


def where(athlete):
    return reverse("decision", args=[athlete.pk])


@pytest.fixture
def logged(cast):
    """Ada with fourteen weeks of triples and three misses at the knee."""
    ada = cast.athletes["ada"]
    today = date.today()
    for week in range(14):
        LiftSet.objects.create(
            athlete=ada, day=today - timedelta(days=3 + 7 * week), lift="deadlift", style="conventional",
            load_typed="150", load_unit="kg", load_kg=150.0, reps_made=3, reps_tried=3, rir_low=2.0, rir_high=2.0,
        )  # fmt: skip
    for week in (1, 3, 5):
        LiftSet.objects.create(
            athlete=ada, day=today - timedelta(days=4 + 7 * week), lift="deadlift", style="conventional",
            load_typed="170", load_unit="kg", load_kg=170.0, reps_made=0, reps_tried=1, result="missed",
            miss_position="at-knee", gave_way="back-rounded",
        )  # fmt: skip
    return ada


def test_it_answers_with_a_heading_a_ground_and_one_button(logged, signed_in):
    page = signed_in("cato").get(where(logged)).content.decode()
    assert page.count("<h1") == 1 and 'class="ground"' in page and page.count('class="button do"') == 1
    for name in (*LINE_NAMES.values(), "For sumo", "Against sumo", "What would change this", "Years in each style"):
        assert f"<b>{name}</b>" in page


def test_strangers_do_not_find_it_and_nothing_is_sent_to_it(logged, signed_in):
    assert signed_in("olga").get(where(logged)).status_code == 404
    assert signed_in("cato").post(where(logged)).status_code == 405


def test_the_athlete_is_led_to_the_plan(logged, signed_in):
    page = signed_in("ada").get(where(logged)).content.decode()
    assert "See my plan" in page and reverse("plan", args=[logged.pk]) in page


def test_staff_read_the_same_whatever_the_health_notes_say(logged, signed_in):
    before = without_tokens(signed_in("stan").get(where(logged)))
    HealthNote.objects.create(athlete=logged, kind="pain", site="lower-back", noted_on=date.today(), text="sharp")
    TrainingDay.objects.create(athlete=logged, day=date.today(), soreness=9, soreness_site="lower-back")
    TrainingDay.objects.create(
        athlete=logged, day=date.today() - timedelta(days=8), soreness=9, soreness_site="lower-back"
    )
    FirstMeeting.objects.update_or_create(athlete=logged, defaults={"hip_pinch": True})
    assert without_tokens(signed_in("stan").get(where(logged))) == before
    coach = signed_in("cato").get(where(logged)).content.decode()
    assert "No testing for now" in coach and "Talk to Ada" in coach


def without_tokens(answer) -> str:
    return "".join(line for line in answer.content.decode().split("\n") if "csrfmiddlewaretoken" not in line)


@pytest.mark.parametrize("state", State)
def test_every_state_has_words_and_a_way_on(state):
    whole, _ = answers(ONE_FOR_EACH_STATE[state])
    assert whole.state == state and state in LEADS
    heading, action = say(whole.heading, COACH), say(whole.action, COACH)
    assert heading and action and len(heading.split()) <= 12
    assert say_all(whole.ground, COACH) and "{" not in heading + action


@pytest.mark.parametrize("state", State)
def test_without_health_no_private_word_is_said(state):
    _, plain = answers(ONE_FOR_EACH_STATE[state])
    texts = [say(plain.heading, STAFF), say(plain.action, STAFF), *say_all(plain.ground, STAFF)]
    assert texts[0] and texts[1]
    assert not any(word in " ".join(texts).lower() for word in ("pain", "pinch", "sore"))


@pytest.mark.parametrize(
    ("value", "reader", "text"),
    [
        (Quantity(137.0, Unit.KG, 130.0, 145.0), COACH, "130–145 kg"),
        (Quantity(100.0, Unit.KG), Reader(weight_unit="lb"), "220 lb"),
        (Quantity(0.33, Unit.METRE), COACH, "33 cm"),
        (Quantity(0.33, Unit.METRE), Reader(length_unit="in"), "13 in"),
        (Quantity(0.62, Unit.CHANCE, 0.41, 0.8), COACH, "6 in 10 (4–8)"),
        (Quantity(0.999, Unit.CHANCE), COACH, "9 in 10"),
        (Quantity(0.7, Unit.CHANCE, 0.7, 0.71), COACH, "7 in 10"),
        (Quantity(1.0, Unit.WEEK), COACH, "1 week"),
        (Quantity(8.0, Unit.WEEK), COACH, "8 weeks"),
        (date(2026, 12, 21), COACH, "21 December"),
        ("wide-sumo", COACH, "wide sumo"),
    ],
)
def test_values_are_written_in_the_readers_units(value, reader, text):
    assert show(value, reader) == text


def test_a_message_is_hidden_for_its_fact_its_words_or_a_value_in_it():
    fact = Message("decision.keep.action", {"weeks": Quantity(8.0, Unit.WEEK)}, private=HEALTH)
    value = Message("decision.keep.action", {"weeks": Quantity(8.0, Unit.WEEK, private=HEALTH)})
    words = Message("decision.pain.heading")
    for message in (fact, value, words):
        assert say(message, STAFF) == "" and say(message, COACH)
    assert say_all((fact, Message("decision.trial-all-the-same")), STAFF) == ["Plan a trial all the same"]


def test_a_code_without_words_is_an_error():
    with pytest.raises(KeyError):
        say(Message("no.such.code"), COACH)
    assert len(TEXTS) > 100
