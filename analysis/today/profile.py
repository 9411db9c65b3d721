"""The stored profile of Today: why this style, the one open action, and the points of the picture."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from analysis.core.decision.answer import answer
from analysis.core.decision.lines import link_is_named
from analysis.core.estimates.running_best import level_on
from analysis.core.records.decision import ActionKind, Answer, DecisionFacts, State
from analysis.core.records.messages import HEALTH, Message, Value, kg
from analysis.core.records.plain import message_to_plain
from analysis.core.squad.signs import HALF_YEAR, POINTS
from analysis.core.styles.comparison import best_by_style
from analysis.decision.facts import decision_facts
from analysis.decision.page import test_words
from analysis.decision.trials import split_points
from analysis.store.profiles import Payload, Sources
from analysis.trials.reading import running_trial, verdict_of

STEADY_KG = 1.0  # changes up to this, or the step of a plate, are no change: common practice, no source
OWN = {
    State.TRIAL_ON_COURSE, State.TRIAL_DAYS_SHORT, State.TRIAL_HIPS_NOT_CLOSER, State.TRIAL_FILM_AGAINST,
    State.OFFERED_TRIAL, State.START_FLATTER, State.TRAIN_LINK, State.UNDER_18, State.RETURNING, State.STANCE_OUT,
}  # fmt: skip
SAME_AS = {
    State.PAIN: "pain", State.TRIAL_PAIN: "pain", State.NOT_MEASURED: "measure", State.BEGINNER: "under-18",
    State.DUE_ADOPT: "due", State.DUE_LEVEL: "due", State.DUE_FOUR_MORE: "due", State.DUE_BACK: "due",
}  # fmt: skip
Plain = dict[str, Any]


def compute_today(sources: Sources) -> Payload:
    """What Today says besides the plan; messages as plain data, so that loads stay in the reader's unit."""
    facts = decision_facts(sources.athlete, sources)
    found = answer(facts, sources.numbers)
    return {
        "why": plain(why_message(facts)),
        "asks": plain(asks_message(found)),
        "stop": bool(found.cautions) and any(one.code == "caution.stop-rule" for one in found.cautions),
        "picture": trial_picture(sources) or best_picture(sources, facts),
    }


def plain(message: Message | None) -> Plain | None:
    """A message as it is stored; None stays None."""
    return None if message is None else message_to_plain(message)


def why_message(facts: DecisionFacts) -> Message | None:
    """Why this style, from a link that the log names; None where nothing is named."""
    if facts.links is None or not link_is_named(facts):
        return None
    return Message("today.why-link", {"main": facts.main_style, "link": facts.links.leading(facts.main_style)[0]})


def asks_message(found: Answer) -> Message | None:
    """The first open action of the one ranking as a request to the lifter; None where nothing is asked."""
    state, values = found.state, found.heading.values
    if state in OWN or state in SAME_AS:
        code = SAME_AS.get(state, str(state))
        private = HEALTH if code in ("pain", "stance-out") else frozenset()
        return Message(f"today.asks.{code}", values, private=private)
    test = test_words(found.next_action)
    if found.next_action.kind == ActionKind.TEST and test:
        return Message("today.asks.test", {"test": test})
    return None


def trial_picture(sources: Sources) -> Plain | None:
    """The points of a running trial with the level of the old style, and what they say; None without one."""
    trial = running_trial(sources.athlete)
    if trial is None:
        return None
    verdict = verdict_of(trial, sources.as_of, lifter=sources.lifter, numbers=sources.numbers)
    style_of = {one.key: one.tags.style for one in sources.lifter.sets}
    new, _ = split_points(verdict.points, style_of, trial.new_style)
    if not new:
        return None
    old = verdict.heading.old_kg if verdict.heading else trial.baseline_old_kg
    values: dict[str, Value] = {
        "new": trial.new_style, "old": trial.old_style or "conventional",
        "week": min(int(verdict.weeks_done) + 1, trial.weeks), "weeks": trial.weeks,
    }  # fmt: skip
    said = Message("today.course-alone", values)
    if old is not None:
        gap = round(old) - round(new[-1].estimate_kg)  # of the shown ends, so that the picture adds up
        word = "below" if gap > STEADY_KG else "above" if gap < -STEADY_KG else "level"
        said = Message(f"today.course-{word}", values | {"gap": kg(float(abs(gap)))})
    return {
        "style": trial.new_style,
        "points": [[p.day.isoformat(), p.estimate_kg] for p in new],
        "level": old,
        "level_style": trial.old_style or "conventional",
        "begins": trial.started_on.isoformat(),
        "ends": trial.decide_on.isoformat(),
        "said": plain(said),
    }


def best_picture(sources: Sources, facts: DecisionFacts) -> Plain | None:
    """Half a year of the main style's running best, and what it says; None without two points."""
    day = sources.as_of
    best = best_by_style(sources.lifter, day, sources.numbers).get(facts.main_style)
    if best is None:
        return None
    first = day - HALF_YEAR
    days = [first + i * HALF_YEAR / (POINTS - 1) for i in range(POINTS)]
    points = [(one, level) for one in days if (level := level_on(best, one)) is not None]
    if len(points) < 2:
        return None
    gap = round(points[-1][1]) - round(points[0][1])
    word = "up" if gap > STEADY_KG else "down" if gap < -STEADY_KG else "steady"
    values: Mapping[str, Value] = {"main": facts.main_style, "gap": kg(float(abs(gap)))}
    return {
        "style": facts.main_style,
        "points": [[one.isoformat(), level] for one, level in points],
        "level": None,
        "level_style": "",
        "begins": points[0][0].isoformat(),
        "ends": day.isoformat(),
        "said": plain(Message(f"today.best-{word}", values)),
    }
