"""One lifter's reasons to look, from the same answer as the decision page: at most one is shown, the first.

The wall orders nothing by itself: when something is due follows from the answer's state and from dates; within a group
the order is the one of `ORDER`, dates before tests before questions, as the one ranking has gain per cost.
"""

from __future__ import annotations

from collections.abc import Iterator

from analysis.core.decision.answer import TRIAL_STATES
from analysis.core.records.decision import ActionKind, Answer, DecisionFacts, State
from analysis.core.records.messages import HEALTH, Message, Quantity, Unit, Value, chance
from analysis.core.records.squad import Due, WallReason, WallSigns
from analysis.core.settings import DEFAULTS, Settings

SLIPS = 3  # misses of twelve weeks, all by the grip, from which the hands are the question; as many as name a link
TEST_AHEAD = 7  # days before a decision in which its test day is to be planned
ORDER = (
    "due-adopt", "due-level", "due-four-more", "due-back", "attempts", "private", "hips", "film", "round-lockouts",
    "round-lockout", "offered", "test-day", "days-short", "slips", "link", "link-open", "views", "round", "heavy-miss",
    "harder", "no-heavy", "not-logged", "measure", "never-logged", "stale",
)  # fmt: skip
# While these answers hold nobody is expected to pull heavy.
EASY = frozenset((State.UNDER_18, State.BEGINNER, State.RETURNING, State.PAIN, State.TRIAL_PAIN, State.NOT_MEASURED))
Found = Iterator[WallReason]


def wall_reasons(
    answer: Answer, facts: DecisionFacts, signs: WallSigns, settings: Settings = DEFAULTS
) -> tuple[WallReason, ...]:
    """Every reason to look, the one to show first; () for a lifter who goes as planned."""
    found = [
        *private_reason(answer, signs),
        *trial_reasons(answer, facts),
        *style_reasons(answer, facts),
        *miss_reasons(facts, signs, answer),
        *date_reasons(answer, signs, settings),
    ]
    return tuple(sorted(found, key=lambda one: (one.due != Due.TODAY, ORDER.index(one.code))))


def reason(code: str, due: Due, leads: str, evidence: object, **values: Value) -> WallReason:
    """A reason that anybody may read who sees the lifter."""
    return WallReason(
        code, due, Message(f"wall.{code}", values), Message(f"wall.{code}.button", values), leads, str(evidence)
    )


def private_reason(answer: Answer, signs: WallSigns) -> Found:
    """Pain, soreness and a pinching stance, all alike: that the coach should talk to the lifter, and nothing more."""
    if answer.private or signs.private:
        since = signs.private or answer.state
        message, button = Message("wall.private", private=HEALTH), Message("wall.private.button", private=HEALTH)
        yield WallReason("private", Due.TODAY, message, button, "health-notes", str(since), private=True)


def trial_reasons(answer: Answer, facts: DecisionFacts) -> Found:
    """A trial whose decision is due, whose start looks wrong, which lacks days, or whose test is to be planned."""
    trial, state = facts.trial, answer.state
    if trial is None or trial.decided:
        return
    due = f"{trial.decision_day}|{state}"
    ends: Value = "ends-today" if trial.decision_day == facts.day else "over"
    if state in (State.DUE_ADOPT, State.DUE_LEVEL, State.DUE_FOUR_MORE, State.DUE_BACK):
        yield reason(str(state), Due.TODAY, "trial", due, new=trial.new_style, old=trial.old_style, ends=ends)
    if state == State.TRIAL_HIPS_NOT_CLOSER:
        yield reason("hips", Due.TODAY, "pictures", trial.begins, new=trial.new_style)
    if state == State.TRIAL_FILM_AGAINST:
        yield reason("film", Due.TODAY, "pictures", trial.begins, new=trial.new_style)
    if state == State.TRIAL_DAYS_SHORT:
        late = Due.TODAY if trial.decision_day <= facts.day else Due.WEEK
        days: dict[str, Value] = {"days": trial.days, "planned": trial.days_planned, "new": trial.new_style}
        yield reason("days-short", late, "trial", trial.days, **days)
    if state == State.TRIAL_ON_COURSE and 0 <= (trial.decision_day - facts.day).days <= TEST_AHEAD:
        yield reason("test-day", Due.WEEK, "test-day", trial.decision_day, day=trial.decision_day)


def style_reasons(answer: Answer, facts: DecisionFacts) -> Found:
    """What the answer about style asks the coach to do."""
    state, links, lean = answer.state, facts.links, answer.lean
    if not facts.measured:
        yield reason("measure", Due.WEEK, "measure", "none")
    if state == State.OFFERED_TRIAL and lean is not None:
        style = lean.style or facts.other_style
        said = chance(lean.chance, lean.low, lean.high)
        yield reason("offered", Due.TODAY, "trial-plan", f"{style}|{lean.chance:.1f}", style=style, chance=said)
    elif state == State.VIEWS_DIFFER:
        coaches = answer.heading.values.get("coaches", facts.other_style)
        yield reason("views", Due.WEEK, "weak-link", len(facts.results), coaches=coaches)
    elif state == State.START_FLATTER:
        if links is not None and links.lockout_round_misses:
            misses = links.lockout_round_misses
            code = "round-lockouts" if misses > 1 else "round-lockout"
            yield reason(code, Due.TODAY, "pictures", misses, misses=misses)
        else:
            seen: dict[str, Value] = {"seen": facts.back.seen, "round": facts.back.round}
            yield reason("round", Due.WEEK, "pictures", facts.back.round, **seen)
    elif state == State.TRAIN_LINK and links is not None:
        link = links.leading(facts.main_style)[0]
        yield reason("link", Due.WEEK, "plan", f"{link}|{links.misses}", link=link, misses=links.misses)


def miss_reasons(facts: DecisionFacts, signs: WallSigns, answer: Answer) -> Found:
    """Misses that all slipped, a link that a test would tell, a heavy miss of the last days."""
    if signs.slips >= SLIPS and signs.slips == signs.misses:
        yield reason("slips", Due.WEEK, "plan", signs.last_miss, misses=signs.misses)
        return
    links = facts.links
    open_question = answer.state == State.KEEP and answer.next_action.kind == ActionKind.TEST
    if links is not None and links.misses and open_question:
        yield reason("link-open", Due.WEEK, "weak-link", links.misses, misses=links.misses)
    if signs.heavy_miss is not None:
        share, day = signs.heavy_miss
        yield reason("heavy-miss", Due.WEEK, "weak-link", day, share=Quantity(share, Unit.SHARE), day=day)


def date_reasons(answer: Answer, signs: WallSigns, settings: Settings) -> Found:
    """A meet without attempts, work that feels harder, long breaks, measurements past their time."""
    day, trial = signs.day, answer.state in TRIAL_STATES
    if signs.next_meet is not None and 0 <= (signs.next_meet - day).days <= settings["squad.attempts_days"]:
        left = Quantity(float((signs.next_meet - day).days), Unit.DAY)
        yield reason("attempts", Due.TODAY, "athlete-meets", signs.next_meet, days=left)
    if signs.harder is not None:
        rise, row = signs.harder
        yield reason("harder", Due.WEEK, "progress", row, rise=Quantity(rise, Unit.COUNT))
    if signs.last_logged is None:
        yield reason("never-logged", Due.WEEK, "lift-new", "none")
    elif (quiet := (day - signs.last_logged).days) >= settings["squad.silent_days"]:
        yield reason("not-logged", Due.WEEK, "lifts", signs.last_logged, days=Quantity(float(quiet), Unit.DAY))
    elif signs.last_heavy is not None and not trial and answer.state not in EASY:
        idle = (day - signs.last_heavy).days
        if idle > settings["squad.heavy_days"]:
            yield reason("no-heavy", Due.WEEK, "lifts", signs.last_heavy, days=Quantity(float(idle), Unit.DAY))
    if signs.stale_days is not None:
        months = Quantity(float(round(signs.stale_days / 30.4375)), Unit.COUNT)
        yield reason("stale", Due.WEEK, "measure", "stale", months=months)
