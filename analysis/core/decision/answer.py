"""The one answer about style: state, heading, ground, action, reasons, lines and the next action, as messages."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta

from analysis.core.decision.days import test_day, working_day
from analysis.core.decision.lines import NAMED_MISSES, all_lines, link_is_named, narrower
from analysis.core.decision.next_action import ranked
from analysis.core.decision.reasons import Reasons, coaches_lean, differing_views, reasons_of
from analysis.core.decision.states import (
    keeps_old_style,
    state_of,
    trial_start,
    trial_weeks,
    weeks_to_meet,
)
from analysis.core.records.decision import (
    HEALTH_STATES,
    ActionKind,
    Answer,
    Candidate,
    DecisionFacts,
    Lean,
    NextAction,
    State,
    TrialFacts,
)
from analysis.core.records.messages import HEALTH, Level, Message, Quantity, Unit, Value, chance, kg
from analysis.core.settings import DEFAULTS, Settings
from analysis.core.styles.belief import lean_of

NO_LEAN = frozenset((State.TRIAL_PAIN, State.PAIN, State.UNDER_18, State.BEGINNER, State.RETURNING, State.NOT_MEASURED))
LEADING_KIND = {State.OFFERED_TRIAL: ActionKind.TRIAL, State.TRAIN_LINK: ActionKind.TRAIN}
STOPS = frozenset((State.TRIAL_PAIN, State.PAIN))
TRIAL_STATES = frozenset(
    (State.TRIAL_HIPS_NOT_CLOSER, State.TRIAL_FILM_AGAINST, State.TRIAL_DAYS_SHORT, State.TRIAL_ON_COURSE)
)


def answers(facts: DecisionFacts, settings: Settings = DEFAULTS) -> tuple[Answer, Answer]:
    """The answer for the coach and the athlete, and the one for readers who may not see health."""
    return answer(facts, settings), answer(facts.without_health(), settings)


def answer(facts: DecisionFacts, settings: Settings = DEFAULTS) -> Answer:
    """The one answer as of the facts' day."""
    reasons = reasons_of(facts, settings)
    lean = lean_of(
        facts.other_style, facts.main_style, facts.links, facts.build, facts.results, reasons.worth, settings
    )
    state = state_of(facts, lean, reasons, settings)
    private = HEALTH if state in HEALTH_STATES else frozenset()
    level = Level.STOP if state in STOPS else Level.NOTE
    values = _values(state, facts, lean, settings)
    actions = ranked(_with_trial(facts, state, lean), settings)
    return Answer(
        state=state,
        heading=Message(f"decision.{state}.heading", values, level, private),
        ground=tuple(replace(m, private=m.private | private) for m in _ground(state, facts, lean, reasons, settings)),
        action=Message(f"decision.{state}.action", values, level, private),
        second_action=_second(state),
        lean=None if state in NO_LEAN else lean,
        reasons_for=() if state in NO_LEAN else reasons.towards,
        reasons_against=() if state in NO_LEAN else reasons.against,
        differ=() if state in NO_LEAN else differing_views(facts),
        lines=() if state in NO_LEAN else all_lines(facts, settings),
        next_action=_leading(state, actions),
        cautions=_cautions(state, facts, lean),
        context=_context(state, facts, lean),
        note=_note(state, facts, settings),
        plan=_plan(state, facts, lean, settings),
        years=() if state in NO_LEAN else _years(facts),
        changes=() if state in NO_LEAN else would_change(facts),
    )


def _with_trial(facts: DecisionFacts, state: State, lean: Lean) -> DecisionFacts:
    """The facts with an offered trial among the candidates."""
    if state != State.OFFERED_TRIAL:
        return facts
    trial = Candidate(ActionKind.TRIAL, f"trial-{facts.other_style}", trial_value=lean.value)
    return replace(facts, candidates=(*facts.candidates, trial))


def _leading(state: State, actions: tuple[NextAction, ...]) -> NextAction:
    """The action the squad row, the button and the day's line read: the state's own, else the best of the ranking."""
    if state in STOPS or state in (State.UNDER_18, State.BEGINNER, State.RETURNING):
        return NextAction(ActionKind.ASK, f"decision.{state}", 0.0)
    if state == State.NOT_MEASURED:
        return NextAction(ActionKind.ASK, "measure", 0.0)
    kind = LEADING_KIND.get(state)
    if kind is None:
        return actions[0]
    return next((a for a in actions if a.kind == kind), NextAction(kind, f"decision.{state}", 0.0))


def _second(state: State) -> Message | None:
    """The way to a trial that stays open where none leads."""
    open_states = (State.KEEP, State.TRAIN_LINK, State.START_FLATTER, State.VIEWS_DIFFER)
    return Message("decision.trial-all-the-same") if state in open_states else None


def _values(state: State, facts: DecisionFacts, lean: Lean, settings: Settings) -> dict[str, Value]:
    """Values for the places of a state's heading and action."""
    start = working_day(trial_start(facts, settings), facts.holidays)
    values: dict[str, Value] = {"main": facts.main_style, "other": facts.other_style}
    if state == State.MEET_AHEAD:
        weeks = weeks_to_meet(facts, settings)
        values |= {"weeks": Quantity(float(weeks or 0), Unit.WEEK), "start": start}
    elif state == State.OFFERED_TRIAL:
        weeks = trial_weeks(facts, settings)
        ends = working_day(start + timedelta(weeks=weeks), facts.holidays)
        values |= {"weeks": Quantity(float(weeks), Unit.WEEK), "start": start, "decision": ends}
    elif state == State.TRAIN_LINK and facts.links is not None:
        values |= {"link": facts.links.leading(facts.main_style)[0], "start": start}
        values |= {"weeks": Quantity(settings["style.train_weeks"], Unit.WEEK)}
    elif state == State.KEEP:
        values |= {"weeks": Quantity(settings["style.train_weeks"], Unit.WEEK)}
    elif state == State.VIEWS_DIFFER:
        values |= {"coaches": coaches_lean(facts), "level": chance(lean.chance, lean.low, lean.high)}
    elif state == State.STANCE_OUT and (width := narrower(facts, settings)) is not None:
        values |= {"width": Quantity(width, Unit.METRE, private=HEALTH)}
    if facts.trial is not None:
        values |= _trial_values(facts.trial, facts)
    return values


def _trial_values(trial: TrialFacts, facts: DecisionFacts) -> dict[str, Value]:
    """Values of a running or decided trial; the chance is said as 9 in 10 at most."""
    values: dict[str, Value] = {
        "new": trial.new_style,
        "old": trial.old_style,
        "decision": working_day(trial.decision_day, facts.holidays),
        "test": test_day(working_day(trial.decision_day, facts.holidays), facts.holidays),
        "days": trial.days,
        "planned": trial.days_planned,
        "better": chance(min(max(trial.chance_better, 0.1), 0.9)),
    }
    if trial.old_kg is not None:
        low, high = trial.estimate_kg or (None, None)
        values["estimate"] = kg(trial.old_kg, low, high)
    return values


def _ground(
    state: State, facts: DecisionFacts, lean: Lean, reasons: Reasons, settings: Settings
) -> tuple[Message, ...]:
    """Why the state holds: its own ground first, then the lean with its span, and the strongest reason."""
    values = _values(state, facts, lean, settings)
    # Without a lift in the old style there is no estimate to name.
    lacks_estimate = state == State.TRIAL_ON_COURSE and "estimate" not in values
    ground = [Message("decision.no-estimate" if lacks_estimate else f"decision.{state}.ground", values)]
    if state in (State.OFFERED_TRIAL, State.MEET_AHEAD, State.STANCE_OUT, State.KEEP, State.TRAIN_LINK):
        ground.append(lean_message(lean, facts))
    if state == State.OFFERED_TRIAL:
        ground.extend(reasons.towards[:1])
        sore = any(m.code == "reason.sore-back" for m in reasons.towards)
        if sore:
            ground.append(Message("decision.sore-back", private=HEALTH))
    if facts.trial is not None and not facts.trial.old_kept and state in TRIAL_STATES:
        ground.append(Message("decision.old-not-in-trial"))
    return tuple(ground)


def lean_message(lean: Lean, facts: DecisionFacts) -> Message:
    """ "leans sumo, 6 in 10 (4-8)", or that it is open."""
    values: dict[str, Value] = {
        "style": lean.style or facts.other_style,
        "chance": chance(lean.chance, lean.low, lean.high),
    }
    if facts.results_of_both and lean.style:
        return Message(f"lean.own-results-{lean.word}", values)
    return Message("lean.towards" if lean.style else "lean.open", values)


def _context(state: State, facts: DecisionFacts, lean: Lean) -> tuple[Message, ...]:
    """The line above the heading: where the lifter stands, and the lean with its span where one is said."""
    if state in NO_LEAN:
        return ()
    trial = facts.trial
    if trial is not None and not trial.decided:
        weeks = max((trial.decision_day - trial.begins).days // 7, 1)
        week = min(max((facts.day - trial.begins).days // 7 + 1, 1), weeks)
        better = chance(min(max(trial.chance_better, 0.1), 0.9))
        return (Message("context.trial", {"week": week, "weeks": weeks, "new": trial.new_style, "better": better}),)
    years = facts.years.get(facts.main_style, 0.0)
    values: dict[str, Value] = {"main": facts.main_style, "years": Quantity(years, Unit.YEAR)}
    first = Message("context.years" if years else "context.no-trial", values)
    return (first,) if trial is not None else (first, lean_message(lean, facts))


def _note(state: State, facts: DecisionFacts, settings: Settings) -> Message | None:
    """The line under the button: what the action asks for."""
    if state == State.TRIAL_ON_COURSE:
        return Message("note.test")
    if state == State.OFFERED_TRIAL:
        days = round(trial_weeks(facts, settings) * settings["trial.sessions_a_week"])
        return Message("note.trial-days", {"days": days, "other": facts.other_style})
    if state == State.TRAIN_LINK and facts.links is not None:
        return Message(f"note.train-{facts.links.leading(facts.main_style)[0]}")
    if state == State.TRIAL_DAYS_SHORT and facts.trial is not None:
        return Message("note.heavy-days", {"least": round(settings["trial.heavy_days_least"])})
    return None


def _plan(state: State, facts: DecisionFacts, lean: Lean, settings: Settings) -> tuple[Message, ...]:
    """What an offered trial is worth, and whether the old style stays in it."""
    if state != State.OFFERED_TRIAL:
        return ()
    kept = keeps_old_style(facts, settings)
    values: dict[str, Value] = {"main": facts.main_style}
    old = Message("decision.old-kept", values) if kept else Message("decision.old-not-kept", values, private=HEALTH)
    return old, Message(f"decision.worth-{worth_word(lean.value)}")


def _years(facts: DecisionFacts) -> tuple[Message, ...]:
    """Years in each style, which speak for staying."""
    told = sorted(((years, style) for style, years in facts.years.items() if years > 0), reverse=True)
    if not told:
        return (Message("years.unknown"),)
    return tuple(Message("years.line", {"style": s, "years": Quantity(y, Unit.YEAR)}) for y, s in told)


def would_change(facts: DecisionFacts) -> tuple[Message, ...]:
    """What would move this answer most, surest first."""
    found = []
    if not facts.results_of_both and facts.trial is None:
        found.append(Message("change.trial", {"other": facts.other_style}))
    misses = facts.links.misses if facts.links else 0
    if not link_is_named(facts):
        found.append(Message("change.misses", {"more": max(NAMED_MISSES - misses, 1)}))
    if not facts.measured:
        found.append(Message("change.measure"))
    return (*found, Message("change.meet"))


def worth_word(value: float) -> str:
    """ "little" under 1 % of the best, "some" to 3 %, "much" over it."""
    return "little" if value < 0.01 else "some" if value <= 0.03 else "much"


def _cautions(state: State, facts: DecisionFacts, lean: Lean) -> tuple[Message, ...]:
    """Cautions that stand open beside the answer: the stop rule with trials and tests, few results, span."""
    found = []
    if state in TRIAL_STATES or state in (State.OFFERED_TRIAL, State.TRAIN_LINK, State.STANCE_OUT, State.VIEWS_DIFFER):
        found.append(Message("caution.stop-rule", level=Level.CAUTION))
    if state == State.OFFERED_TRIAL:
        found.append(Message("caution.trial-decides", level=Level.CAUTION))
    if state in (State.DUE_ADOPT, State.DUE_BACK):
        assert facts.trial is not None
        code = "caution.you-two-decide"
        found.append(Message(code, {"chance": chance(min(max(facts.trial.chance_better, 0.1), 0.9))}, Level.CAUTION))
    if state in (State.UNDER_18, State.BEGINNER):
        found.append(Message("caution.competent-person", level=Level.CAUTION))
    if state in STOPS:
        found.append(Message("caution.licensed", level=Level.STOP, private=HEALTH))
    link = facts.links.leading(facts.main_style)[0] if facts.links else ""
    if state == State.TRAIN_LINK and link == "legs":
        found.append(Message("caution.few-cases", {"link": link}, Level.CAUTION))
    if facts.links and facts.links.misses and link in ("hips", "back") and state == State.TRAIN_LINK:
        found.append(Message("caution.floor-miss", level=Level.NOTE))
    return tuple(found)
