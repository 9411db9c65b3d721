"""The answer of the weak-link page: every state has its heading, chances add up, and nothing is said too surely."""

from types import SimpleNamespace

import pytest

from analysis.core.records.messages import Message, Verbatim, kg
from analysis.core.records.plain import to_plain
from analysis.text.say import Reader
from analysis.weak_link.answer import answer_for, gain_words, tenths_of

ADA = SimpleNamespace(pk=7)
COACH = Reader(name="Ada")


def chances(**found: float):
    return [{"link": link, "chance": chance} for link, chance in found.items()]


def reading(back=0.7, hips=0.2, legs=0.06, grip=0.04, expected="below-knee"):
    return {
        "style": "conventional",
        "chances": chances(hips=hips, legs=legs, back=back, grip=grip),
        "gains": [{"link": "back", "kg": 6.0, "low_kg": 4.0, "high_kg": 8.0},
                  {"link": "legs", "kg": 0.1, "low_kg": 0.0, "high_kg": 0.4}],
        "sticking_position": expected,
    }  # fmt: skip


def payload(misses=4, where="below-knee", status="named", opened=0, slow=0, **more):
    rows = [{"style": "conventional", "position": where, "counted": misses}] if misses else []
    return {
        "status": status,
        "styles": [reading()],
        "misses_by_position": rows,
        "excluded": [{"code": "grip"}] * opened,
        "counts": {"misses": misses, "heavy_made": slow},
        "why_not": [],
        "findings": [],
        "next_test": None,
        "other_tests": [],
    } | more


def heading(found) -> str:
    return answer_for(found, "conventional", ADA, COACH, True).heading


@pytest.mark.parametrize(
    ("found", "words"),
    [
        (payload(), "Stops just below the knee: back likely"),
        (payload(styles=[reading(back=0.6, hips=0.3)]), "Stops just below the knee: leaning to the back"),
        (payload(status="not-enough"), "Stops just below the knee: back or hips, still open"),
        (payload(misses=1, status="not-enough"), "One miss: the back is the first suspect"),
        (payload(misses=2, status="not-enough", styles=[reading(back=0.2, hips=0.7)]),
         "Two misses: the hips are the first suspect"),
        (payload(misses=2, slow=2), "Stops just below the knee: back likely"),
        (payload(where="lockout", round_lockouts=3), "Lockout misses, back still round: back or start position"),
        (payload(misses=0, status="not-enough"), "No miss yet: nothing to name"),
        (payload(misses=0, status="not-enough", slow=3), "No miss yet: still open"),
        (payload(misses=0, status="not-enough", opened=6), "All 6 misses: the bar slipped"),
        (payload(misses=0, status="not-enough", opened=1), "One miss: the bar slipped"),
        (payload(status="not-for-beginners", styles=[]), "Learn the lift first"),
        (payload(status="new-baseline", styles=[]), "New baseline first"),
        (payload(minor=True), "Technique first, no link named"),
        (payload(pain=True), "No testing for now"),
    ],
)  # fmt: skip
def test_every_state_has_its_heading(found, words):
    assert heading(found) == words
    assert len(words.split()) <= 12


@pytest.mark.parametrize(
    ("back", "sure"), [(0.64, "leaning to the back"), (0.66, "back likely"), (0.99, "back likely")]
)
def test_a_link_is_likely_from_0_65_and_nothing_more(back, sure):
    found = payload(styles=[reading(back=back, hips=1.0 - back, legs=0.0, grip=0.0)])
    assert heading(found) == f"Stops just below the knee: {sure}"


def test_the_tenths_of_one_question_sum_to_ten_and_none_is_past_nine():
    for back in (0.34, 0.5, 0.67, 0.99):
        told = tenths_of(reading(back=back, hips=(1 - back) * 0.6, legs=(1 - back) * 0.3, grip=(1 - back) * 0.1))
        assert sum(tenths for _, tenths in told) == 10
        assert max(tenths for _, tenths in told) <= 9


def test_a_gain_under_a_kilogram_is_said_so_and_no_range_begins_below_nothing():
    assert [gain_words(low, high, COACH) for low, high in ((0.0, 0.9), (-0.4, 5.2), (4.1, 8.4), (2.2, 2.4))] == [
        "under 1", "0–5", "4–8", "2",
    ]  # fmt: skip


def test_misses_and_drawing_are_held_against_each_other():
    def caption(found):
        return answer_for(found, "conventional", ADA, COACH, True).caption

    assert caption(payload()) == "Misses and drawing agree; neither proves it."
    assert caption(payload(where="lockout")) == (
        "The bar is expected to slow just below the knee; the misses stopped at lockout."
    )
    assert caption(payload(why_not=[{"code": "weak.unexplained"}])) == "The model rarely stops a bar there."


def test_the_floor_conflict_stands_only_where_it_concerns_the_lifter():
    assert "Nobody has measured it" in answer_for(payload(where="floor"), "conventional", ADA, COACH, True).conflict
    assert answer_for(payload(), "conventional", ADA, COACH, True).conflict == ""


def offer():
    def says(best, link, chance):
        values = {"best": kg(best), "link": Verbatim(link), "chance": Verbatim(f"about {chance} in 10")}
        return to_plain(Message("weak.pointing-to", values))

    return {"key": "front-squat", "text": "a front squat triple", "low_kg": 0.97 * 0.86 * 100.0,
            "if_low": says(100.0, "the legs", 7), "if_high": says(130.0, "the back", 6)}  # fmt: skip


def test_a_test_says_three_outcomes_before_it_is_pulled_and_only_to_who_plans():
    told = answer_for(payload(next_test=offer()), "conventional", ADA, COACH, True)
    assert told.button == "Plan a front squat triple" and told.stop
    assert [(one.result, one.says) for one in told.outcomes] == [
        ("Over 112 kg", "Leaning to the back"), ("86–112 kg", "Still open"), ("Under 86 kg", "Legs, likely"),
    ]  # fmt: skip
    other = answer_for(payload(next_test=offer()), "conventional", ADA, COACH, False)
    assert other.button == "Log a set" and other.outcomes == () and not other.stop
