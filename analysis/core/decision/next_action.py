"""The one ranking of what to do next: expected gain per cost behind the gates, and what a test's results would say."""

from __future__ import annotations

from itertools import groupby

from analysis.core.records.decision import ActionKind, Candidate, DecisionFacts, Forecast, NextAction, Outcome
from analysis.core.settings import DEFAULTS, Settings
from analysis.core.styles.belief import LIKELY


def worth(candidate: Candidate, settings: Settings = DEFAULTS) -> float:
    """Expected gain, share of the best over 12 weeks.

    By the log score of the link, not by the chance that will be stated: a block pull raises the stated chance without
    making it truer.
    """
    return settings["next.link_worth"] * max(candidate.log_score, 0.0) + max(candidate.trial_value, 0.0)


def cost(kind: ActionKind, settings: Settings = DEFAULTS) -> float:
    """What an action costs, share of the best."""
    one_set = settings["next.set_cost"]
    return {
        ActionKind.ASK: settings["next.question_sets"] * one_set,
        ActionKind.FILM: settings["next.film_sets"] * one_set,
        ActionKind.TEST: one_set,
        ActionKind.TRIAL: settings["style.trial_cost"],
        ActionKind.TRAIN: one_set,
        ActionKind.KEEP_GOING: one_set,
    }[kind]


def is_barred(candidate: Candidate, facts: DecisionFacts, settings: Settings = DEFAULTS) -> bool:
    """Whether a gate stands before this action: pain, age, learning, hours since heavy work, a meet near."""
    if candidate.blocked:
        return True
    young = facts.is_minor
    if candidate.kind in (ActionKind.TEST, ActionKind.TRIAL):
        if facts.health.pain or young or facts.standing in ("beginner", "returning"):
            return True
        if facts.important_meet and 0 <= (facts.important_meet - facts.day).days <= settings["next.meet_days"]:
            return True
    tired = facts.hours_since_heavy is not None and facts.hours_since_heavy < settings["next.rest_hours"]
    return candidate.heavy and tired


def ranked(facts: DecisionFacts, settings: Settings = DEFAULTS) -> tuple[NextAction, ...]:
    """Every open action worth naming, most gain per cost first; "keep going" stands last and is never absent."""
    found = []
    for candidate in facts.candidates:
        gain = worth(candidate, settings)
        if gain >= settings["next.least"] and not is_barred(candidate, facts, settings):
            outcomes = outcomes_of(candidate.forecast) if candidate.forecast else ()
            per_cost = gain / cost(candidate.kind, settings)
            found.append(NextAction(candidate.kind, candidate.code, per_cost, outcomes))
    found.sort(key=lambda action: (-action.gain_per_cost, action.code))
    return (*found, NextAction(ActionKind.KEEP_GOING, "keep-going", 0.0))


def outcomes_of(forecast: Forecast) -> tuple[Outcome, ...]:
    """What each range of results would say, heaviest first: a link once it is likely, else still open.

    Loads that lead to the same word are one outcome; its chance is the sum of theirs, `after` the chance of the link
    averaged over them.
    """
    total = sum(forecast.weights)
    rows = []
    for place, (load, weight) in enumerate(zip(forecast.loads_kg, forecast.weights, strict=True)):
        link, chance = max(((k, v[place]) for k, v in forecast.chances.items()), key=lambda item: item[1])
        rows.append((link if chance >= LIKELY else "", load, weight / total, chance))
    parts = [(link, list(group)) for link, group in groupby(rows, key=lambda row: row[0])]
    found = []
    for number, (link, group) in enumerate(parts):
        share = sum(row[2] for row in group)
        after = sum(row[2] * row[3] for row in group) / share if share else 0.0
        low = None if number == 0 else group[0][1]
        high = None if number == len(parts) - 1 else parts[number + 1][1][0][1]
        found.append(Outcome(low, high, share, link, after))
    return tuple(reversed(found))
