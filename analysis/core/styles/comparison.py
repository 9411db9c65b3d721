"""Reasons for and against each style for one athlete, and the odds they add up to: one page, no verdict."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from math import log

from analysis.core.estimates.comparable import difference_words
from analysis.core.estimates.grip_and_bar import bar_findings, grip_findings
from analysis.core.estimates.running_best import running_bests
from analysis.core.records.estimates import RunningBest, TrialVerdict
from analysis.core.records.lifts import LifterRecord
from analysis.core.records.messages import Message, Quantity, Unit, Value, Verbatim, kg
from analysis.core.records.styles import StyleComparison, StyleOdds, StyleReason
from analysis.core.records.terms import STYLE_WORDS, in_ten
from analysis.core.settings import DEFAULTS, Settings
from analysis.core.styles.odds import StyleEvidence, style_odds

FLOOR_STYLES = ("conventional", "sumo", "wide-sumo")
STANDS_OUT, NEARLY_SURE = 0.6, 0.85  # chances from which the words say "probably" and "very probably"
TRAINED_DAYS = 12  # days of a style in the log from which it counts as trained: common practice, no source


@dataclass(frozen=True, slots=True)
class TrialNews:
    """A trial that ran or runs: its styles, what the log says of it, and what the coach decided."""

    new_style: str
    old_style: str
    verdict: TrialVerdict
    decided: str = ""


def compare_styles(
    lifter: LifterRecord,
    as_of: date,
    settings: Settings = DEFAULTS,
    trial: TrialNews | None = None,
    years: Mapping[str, float] | None = None,
    build_words: Mapping[str, Sequence[str]] | None = None,
) -> StyleComparison:
    """Odds and reasons of every style against the main one.

    `years` are years told per style, `build_words` sentences of the leverage profile per style. The main style is
    the one with most logged days. Odds stay away for beginners and returning lifters: a new baseline comes first.
    """
    bests = best_by_style(lifter, as_of, settings)
    main = main_style(bests, years or {})
    evidence = [evidence_of(style, main, lifter, bests, trial, years or {}) for style in FLOOR_STYLES if style != main]
    told = lifter.standing == "trained" and main != ""
    odds = tuple(style_odds(one, settings) for one in evidence if told and worth_naming(one))
    reasons = (
        *trial_reasons(trial),
        *log_reasons(bests, main),
        *build_reasons(build_words or {}),
        *bar_and_grip_reasons(lifter, as_of, settings),
        *years_reasons(years or {}),
        *house_reasons(lifter, settings, years or {}),
    )
    return StyleComparison(
        as_of, main, headline(odds, lifter, main), odds, reasons, would_change(odds, trial, bests), SPAN_WORDS
    )


SPAN_WORDS = (
    "The span is what the chance becomes over other values of its settings: how much trained styles differ between "
    "lifters (6 to 10 %), how much build says (r 0 to 0.4), the smallest gain that counts and the first cost of a new "
    "style (a third less or more)."
)


def best_by_style(lifter: LifterRecord, as_of: date, settings: Settings) -> dict[str, RunningBest]:
    """Style -> its floor kind with most days; only the lifter's later log when they are returning."""
    found: dict[str, RunningBest] = {}
    for kind, best in running_bests(lifter.sets, as_of, settings, pooled=("shape",)).items():
        if kind.tags.start == "floor" and kind.tags.style in FLOOR_STYLES:
            found.setdefault(kind.tags.style, best)
    return found


def main_style(bests: Mapping[str, RunningBest], years: Mapping[str, float]) -> str:
    """The style with most logged days, else the one with most years told, else ""."""
    if bests:
        return max(bests, key=lambda style: bests[style].day_count)
    return max(years, key=lambda style: years[style], default="")


def evidence_of(
    style: str,
    main: str,
    lifter: LifterRecord,
    bests: Mapping[str, RunningBest],
    trial: TrialNews | None,
    years: Mapping[str, float],
) -> StyleEvidence:
    """What is known of a style against the main one; logged bests only on one comparable footing."""
    stature, sitting = (lifter.measurements_m.get(key) for key in ("stature", "sitting_height"))
    share = sitting / stature if stature and sitting else None
    difference, sd, trained = None, 0.1, True
    if style in bests and main in bests and not unlike(bests[style], bests[main]):
        mine, theirs = bests[style], bests[main]
        difference = log(mine.now_kg / theirs.now_kg)
        sd = (mine.sd_log[-1] ** 2 + theirs.sd_log[-1] ** 2) ** 0.5
        trained = mine.day_count >= TRAINED_DAYS or years.get(style, 0.0) >= 1.0
    heading = trial.verdict.heading if trial and {trial.new_style, trial.old_style} == {style, main} else None
    sign = 1.0 if trial and trial.new_style == style else -1.0
    return StyleEvidence(
        style, main, share, lifter.sex, difference, sd, trained,
        sign * heading.difference if heading else None, heading.difference_sd if heading else 0.1,
    )  # fmt: skip


def unlike(first: RunningBest, second: RunningBest) -> tuple[str, ...]:
    """In words, what two styles' bests differ in besides the style itself."""
    return tuple(word for word in difference_words(first.kind, second.kind) if not word.startswith("style"))


def worth_naming(evidence: StyleEvidence) -> bool:
    """Whether there is anything of the athlete's own; a wide sumo without a lift is not guessed at from build."""
    own = evidence.trial_difference is not None or evidence.log_difference is not None
    return own or (evidence.sitting_share is not None and evidence.style != "wide-sumo")


def headline(odds: Sequence[StyleOdds], lifter: LifterRecord, main: str) -> str:
    """The odds in one sentence, or why there are none."""
    if lifter.standing == "beginner":
        return "Both styles are being learnt: practice comes first, and no odds are given to a beginner."
    if lifter.standing == "returning":
        return "A new baseline comes first: old bests do not decide a style after a break."
    if lifter.standing == "under-18":
        return "Under 18: reasons are shown, odds are not; comfort and good practice decide."
    if not main:
        return "Nothing is logged or told yet, so no style stands against another."
    named = [o for o in odds if o.rests_on and "nothing" not in o.rests_on[0]]
    if not named:
        return f"Main style {STYLE_WORDS[main]}; nothing tells yet how another would do."
    best = max(named, key=lambda o: o.better)
    style, against = STYLE_WORDS[best.style], STYLE_WORDS[main]
    return (
        f"{odds_lead(best, style, against)}: {style} ends above {against} in {in_ten(best.better)} "
        f"(span {10 * best.low:.0f} to {10 * best.high:.0f}), about equal in {in_ten(best.equal)}, below in "
        f"{in_ten(best.worse)}; rests on {' and '.join(best.rests_on)}."
    )


def odds_lead(odds: StyleOdds, style: str, against: str) -> str:
    """The three chances in a few words; "not told apart yet" unless one of them stands out."""
    chances = {"above": odds.better, "about equal to": odds.equal, "below": odds.worse}
    place, chance = max(chances.items(), key=lambda item: item[1])
    if chance < STANDS_OUT:
        return "Not told apart yet"
    return f"{style.capitalize()} {'very probably' if chance >= NEARLY_SURE else 'probably'} ends {place} {against}"


def trial_reasons(trial: TrialNews | None) -> Iterable[StyleReason]:
    """What a trial says; it weighs most."""
    if trial is None:
        return
    heading, name = trial.verdict.heading, trial.new_style
    said = STYLE_WORDS[name]
    if heading is None or trial.verdict.word == "too early":
        yield StyleReason(name, "trial", "note", f"The trial of {said} is too early to say, or has no like baseline.")
        return
    side = {"adopt": "for", "drop": "against"}.get(trial.verdict.word, "note")
    keys = tuple(key for point in trial.verdict.points for key in point.set_keys)
    ends = kg(heading.heading_kg, heading.heading_low_kg, heading.heading_high_kg)
    text = Message("style.trial-heading", {"ends": ends, "old": kg(heading.old_kg), "style": trial.old_style})
    yield StyleReason(name, "trial", side, text, keys)


def log_reasons(bests: Mapping[str, RunningBest], main: str) -> Iterable[StyleReason]:
    """Running bests per style; unlike footings are said, not compared."""
    for style, best in bests.items():
        keys = tuple(p.key for p in best.points)
        low, high = best.range_kg
        values: dict[str, Value] = {
            "best": kg(best.now_kg, low, high),
            "days": Quantity(float(best.day_count), Unit.DAY),
            "kind": Verbatim(best.label),
        }
        text = Message("style.running-best", values)
        yield StyleReason(style, "log", "note", text, keys)
        if style != main and (words := unlike(best, bests[main])):
            yield StyleReason(
                style, "log", "note", f"Not compared with {STYLE_WORDS[main]}: they differ in {', '.join(words)}.", keys
            )


def build_reasons(words: Mapping[str, Sequence[str]]) -> Iterable[StyleReason]:
    """What the body's leverages trade; a weak hint, and schools contradict each other."""
    for style, sentences in words.items():
        for sentence in sentences:
            yield StyleReason(style, "build", "note", sentence)


def bar_and_grip_reasons(lifter: LifterRecord, as_of: date, settings: Settings) -> Iterable[StyleReason]:
    """Findings on bars and grip of the log."""
    for finding in (*bar_findings(lifter.sets, as_of, settings), *grip_findings(lifter.sets, as_of, settings)):
        kind = "grip" if finding.code.startswith("grip") else "bar"
        yield StyleReason("", kind, "note", finding.text, finding.set_keys)


def years_reasons(years: Mapping[str, float]) -> Iterable[StyleReason]:
    """How long each style was trained: years in a style are skill that a new one has not."""
    for style, count in years.items():
        if count > 0:
            yield StyleReason(
                style,
                "years",
                "for" if count >= 2 else "note",
                f"{count:g} year{'' if count == 1 else 's'} trained in {STYLE_WORDS[style]}.",
            )


def house_reasons(lifter: LifterRecord, settings: Settings, years: Mapping[str, float]) -> Iterable[StyleReason]:
    """One school's view, off by default and never for minors."""
    young = lifter.is_minor
    if settings.on("house.sumo_first") and not young and max(years.values(), default=0.0) < 1.0:
        text = "House rule (one school's view): with no long training in either style, start with a sumo trial."
        yield StyleReason("sumo", "house", "for", text)


def would_change(
    odds: Sequence[StyleOdds], trial: TrialNews | None, bests: Mapping[str, RunningBest]
) -> tuple[str, ...]:
    """What would move the odds most."""
    said = []
    if trial is None:
        said.append("A trial of 8 to 12 weeks with like tests in both styles would weigh more than all the rest.")
    elif trial.verdict.word == "too early":
        said.append("The trial that is running, once it has its weeks and sessions.")
    if len(bests) < 2:
        said.append("A triple at RPE 8 or less in a second style, same bar and grip, would be a first hint.")
    if not odds:
        said.append("Sitting height and stature add the (weak) hint of build.")
    return tuple(said)
