"""The one answer about style as a page shows it to one reader: words from messages, pictures, one button."""

from __future__ import annotations

from dataclasses import dataclass, replace

from django.urls import reverse

from analysis.core.decision.answer import answer as answer_of
from analysis.core.decision.answer import answers
from analysis.core.records.decision import Answer, DecisionFacts, NextAction, Outcome
from analysis.core.records.messages import Message, Private, Quantity, Unit
from analysis.decision.facts import decision_facts
from analysis.decision.leads import leads_to, trial_form
from analysis.decision.pictures import Picture, demands, figures, third
from analysis.store.profiles import Payload, Sources
from analysis.text.decision import TEXTS
from analysis.text.say import STYLE_NAMES, Reader, quantity, reader_of, say, say_all
from analysis.text.stored import joined, stored_answer
from athletes.models import Athlete, User

LINE_NAMES = {
    "how-wide": "How wide",
    "flat-or-rounded": "Flat or rounded",
    "bar-and-grip": "Bar and grip",
    "train-link": "Train the link",
}
TEST_NAMES = {
    "block": "a block pull, triple at RPE 8",
    "deficit": "a deficit pull, triple at RPE 8",
    "front-squat": "a front squat to depth, triple at RPE 8",
    "straps": "a triple with straps at RPE 8",
    "bar": "a triple on the other bar at RPE 8",
    "paused": "a paused pull below the knee, triple at RPE 8",
}


@dataclass(frozen=True, slots=True)
class ShownLine:
    """One closed line: its name, where it stands, why, what to do."""

    name: str
    state: str
    ground: str
    action: str


@dataclass(frozen=True, slots=True)
class ShownList:
    """One closed line whose details are a list: its name, the gist of it, everything it says."""

    name: str
    gist: str
    items: list[str]


@dataclass(frozen=True, slots=True)
class ShownDecision:
    """Everything the page says to one reader."""

    state: str
    context: str
    heading: str
    ground: list[str]
    coach_words: str
    button: str
    leads_to: str
    note: str
    second: str
    second_to: str
    cautions: list[str]
    lines: list[ShownLine]
    lists: list[ShownList]
    figures: Picture | None
    demands: Picture | None
    third: Picture | None


def compute_decision(sources: Sources) -> Payload:
    """The answer of one athlete as other pages repeat it; made without health where the sources hold none."""
    facts = decision_facts(sources.athlete, sources)
    made = stored_answer(answer_of(facts if sources.sees_health else facts.without_health(), sources.numbers))
    return made | {"days": facts.trial.days if facts.trial else 0}


def decision_for(athlete: Athlete, viewer: User, sources: Sources, *, private: bool = True) -> ShownDecision:
    """The answer of an athlete as this viewer may read it; without health it is made without health.

    Without `private` it is what anybody may read, for paper that others may see.
    """
    facts = decision_facts(athlete, sources)
    whole, plain = answers(facts, sources.numbers)
    reader = reader_of(athlete, viewer)
    if not private:
        reader = replace(reader, allowed=frozenset())
    answer = whole if Private.HEALTH in reader.allowed else plain
    own = reader.own
    test = test_words(answer.next_action)
    return ShownDecision(
        state=answer.state,
        context=joined(say_all(answer.context, reader)),
        heading=say(answer.heading, reader),
        ground=say_all(lead(answer), reader),
        coach_words=coach_words(athlete) if own else "",
        button="See my plan" if own else say(answer.action, reader),
        leads_to=reverse("plan", args=[athlete.pk]) if own else leads_to(athlete, facts, answer),
        note="" if own or answer.note is None else say(answer.note, reader),
        second="" if own or answer.second_action is None else say(answer.second_action, reader),
        second_to=trial_form(athlete, facts, sources.numbers),
        cautions=say_all(answer.cautions, reader),
        lines=[
            ShownLine(LINE_NAMES[one.key], *(say(part, reader) for part in (one.state, one.ground, one.action)))
            for one in answer.lines
        ],
        lists=lists_of(answer, facts, reader, test),
        figures=figures(athlete, viewer, sources, facts, reader),
        demands=demands(sources.profile("weak-link"), facts, reader) if answer.lean else None,
        third=third(athlete, sources, facts, answer, reader),
    )


def lead(answer: Answer) -> list[Message]:
    """The ground under the heading: without the lean, which stands above it, and without what a caution says again."""
    said = {say_code(one) for one in answer.cautions}
    return [one for one in answer.ground if not one.code.startswith("lean.") and say_code(one) not in said]


def say_code(message: Message) -> str:
    """The template of a message, to find the same sentence under two codes."""
    return TEXTS[message.code]


def coach_words(athlete: Athlete) -> str:
    """The coach's own words of the latest decision, which the athlete reads first; "" without any."""
    last = athlete.decisions.first()
    return last.words_for_athlete if last else ""


def lists_of(answer: Answer, facts: DecisionFacts, reader: Reader, test: str) -> list[ShownList]:
    """The closed lines that hold lists; a line that says nothing yet still says so."""
    other = STYLE_NAMES[facts.other_style]
    outcomes = [outcome_words(one, reader) for one in answer.next_action.outcomes]
    known = [
        (f"For {other}", answer.reasons_for, "nothing yet speaks for it"),
        (f"Against {other}", answer.reasons_against, "nothing yet speaks against it"),
        ("Coaches and studies differ", answer.differ, "nowhere that concerns this lifter"),
        ("What would change this", answer.changes, "more heavy sets with what was seen"),
        ("Years in each style", answer.years, "not known"),
    ]
    if answer.lean is None:
        return []
    found = [_list(name, say_all(messages, reader), empty) for name, messages, empty in known]
    if answer.plan:
        found[-1] = _list("The old style meanwhile", say_all(answer.plan, reader), "only test days compare")
    if test:
        found.insert(
            3, ShownList("Would tell most", test, outcomes or ["Its three outcomes stand with the weak link."])
        )
    return found


def _list(name: str, items: list[str], empty: str) -> ShownList:
    return ShownList(name, items[0] if items else empty, items or [empty[:1].upper() + empty[1:] + "."])


def test_words(action: NextAction) -> str:
    """The test that would tell most, in words; "" when another action leads."""
    return TEST_NAMES.get(action.code.rpartition(":")[2], "")


def outcome_words(outcome: Outcome, reader: Reader) -> str:
    """What one range of results of a test would say."""
    ends = [quantity(Quantity(end, Unit.KG), reader) for end in (outcome.low_kg, outcome.high_kg) if end is not None]
    where = (
        "under " + ends[0]
        if outcome.low_kg is None
        else "from " + ends[0]
        if outcome.high_kg is None
        else "–".join(ends)
    )
    return f"{where}: {outcome.link + ' likely' if outcome.link else 'still open'}"
