"""What stands behind each style of one athlete: trial, logged bests, build, bar, grip, years; no chance of its own."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date

from analysis.core.estimates.comparable import difference_words
from analysis.core.estimates.grip_and_bar import bar_findings, grip_findings
from analysis.core.estimates.running_best import running_bests
from analysis.core.records.estimates import RunningBest, TrialVerdict
from analysis.core.records.lifts import LifterRecord
from analysis.core.records.messages import Message, Quantity, Unit, Value, Verbatim, Words, kg
from analysis.core.records.terms import STYLE_WORDS
from analysis.core.settings import DEFAULTS, Settings

FLOOR_STYLES = ("conventional", "sumo", "wide-sumo")


@dataclass(frozen=True, slots=True)
class StyleReason:
    """One reason: kind (trial, log, build, bar, grip, back, years), side (for, against, note), words, its rows."""

    style: str
    kind: str
    side: str
    text: Words
    set_keys: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class StyleComparison:
    """What stands behind each style as of a day; chances are the decision's alone."""

    as_of: date
    main: str
    reasons: tuple[StyleReason, ...]


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
    """Reasons of every style; `years` are years told per style, `build_words` sentences of the leverage profile.

    The main style is the one with most logged days.
    """
    bests = best_by_style(lifter, as_of, settings)
    main = main_style(bests, years or {})
    reasons = (
        *trial_reasons(trial),
        *log_reasons(bests, main),
        *build_reasons(build_words or {}),
        *bar_and_grip_reasons(lifter, as_of, settings),
        *years_reasons(years or {}),
        *house_reasons(lifter, settings, years or {}),
    )
    return StyleComparison(as_of, main, reasons)


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


def unlike(first: RunningBest, second: RunningBest) -> tuple[str, ...]:
    """In words, what two styles' bests differ in besides the style itself."""
    return tuple(word for word in difference_words(first.kind, second.kind) if not word.startswith("style"))


def trial_reasons(trial: TrialNews | None) -> Iterable[StyleReason]:
    """What a trial says; it weighs most."""
    if trial is None:
        return
    heading, name = trial.verdict.heading, trial.new_style
    said = STYLE_WORDS[name]
    if heading is None:
        yield StyleReason(name, "trial", "note", f"The trial of {said} has no like baseline yet.")
        return
    side = {"adopt": "for", "drop": "against"}.get(trial.decided, "note")
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
