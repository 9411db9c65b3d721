"""The one answer about style as a page shows it to one reader: words from messages, two figures, one button."""

from __future__ import annotations

from dataclasses import dataclass

from django.urls import reverse

from analysis.core.decision.answer import answers
from analysis.core.records.decision import NextAction, Outcome, State
from analysis.core.records.messages import Private, Quantity, Unit
from analysis.core.records.plain import CoreError
from analysis.decision.facts import decision_facts
from analysis.leverages.page import page_for
from analysis.leverages.pictures import PanelRow, panel_row
from analysis.store.profiles import Sources
from analysis.text.say import STYLE_NAMES, Reader, quantity, reader_of, say, say_all
from athletes.models import Athlete, User

# Where the button of a state leads: the name of an address of the athlete.
LEADS = {
    State.TRIAL_PAIN: "health-notes",
    State.PAIN: "health-notes",
    State.UNDER_18: "plan",
    State.BEGINNER: "plan",
    State.RETURNING: "plan",
    State.NOT_MEASURED: "measure",
    State.TRIAL_HIPS_NOT_CLOSER: "pictures",
    State.TRIAL_FILM_AGAINST: "pictures",
    State.TRIAL_DAYS_SHORT: "plan",
    State.TRIAL_ON_COURSE: "test-day",
    State.DUE_ADOPT: "trial",
    State.DUE_LEVEL: "trial",
    State.DUE_FOUR_MORE: "trial",
    State.DUE_BACK: "trial",
    State.DECIDED_NEW: "trial",
    State.DECIDED_OLD: "trial",
    State.DECIDED_BOTH: "trial",
    State.MEET_AHEAD: "athlete-meets",
    State.STANCE_OUT: "first-meeting",
    State.OFFERED_TRIAL: "trial-plan",
    State.VIEWS_DIFFER: "weak-link",
    State.START_FLATTER: "pictures",
    State.TRAIN_LINK: "plan",
    State.KEEP: "weak-link",
}
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
class ShownDecision:
    """Everything the page says to one reader."""

    state: str
    heading: str
    ground: list[str]
    button: str
    leads_to: str
    second: str
    cautions: list[str]
    reasons_for: list[str]
    reasons_against: list[str]
    differ: list[str]
    lines: list[ShownLine]
    test: str
    outcomes: list[str]
    other: str
    row: PanelRow | None


def decision_for(athlete: Athlete, viewer: User, sources: Sources) -> ShownDecision:
    """The answer of an athlete as this viewer may read it; without health it is made without health."""
    facts = decision_facts(athlete, sources)
    whole, plain = answers(facts, sources.numbers)
    reader = reader_of(athlete, viewer)
    answer = whole if Private.HEALTH in reader.allowed else plain
    own = reader.own
    return ShownDecision(
        state=answer.state,
        heading=say(answer.heading, reader),
        ground=say_all(answer.ground, reader),
        button="See my plan" if own else say(answer.action, reader),
        leads_to=reverse("plan" if own else LEADS[answer.state], args=[athlete.pk]),
        second="" if own or answer.second_action is None else say(answer.second_action, reader),
        cautions=say_all(answer.cautions, reader),
        reasons_for=say_all(answer.reasons_for, reader),
        reasons_against=say_all(answer.reasons_against, reader),
        differ=say_all(answer.differ, reader),
        lines=[
            ShownLine(LINE_NAMES[one.key], *(say(part, reader) for part in (one.state, one.ground, one.action)))
            for one in answer.lines
        ],
        test=test_words(answer.next_action),
        outcomes=[outcome_words(one, reader) for one in answer.next_action.outcomes],
        other=STYLE_NAMES[facts.other_style],
        row=figures(athlete, viewer, sources, (facts.main_style, facts.other_style)),
    )


def figures(athlete: Athlete, viewer: User, sources: Sources, styles: tuple[str, str]) -> PanelRow | None:
    """Both styles at lift-off to one scale with both lockout heights; None without a stature or a drawable body."""
    page = page_for(athlete, viewer, sources.lifter)
    if not page.measured:
        return None
    try:
        drawn = [one for one in page.report().styles if one.joints and one.name in styles]
    except CoreError:
        return None
    drawn.sort(key=lambda one: styles.index(one.name))
    return panel_row(drawn, page, "lift-off", "pull", {}) if len(drawn) == 2 else None


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
