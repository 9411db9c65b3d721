"""When a link may be named: enough misses, a clear chance that the log itself has raised, nothing that explains it."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Sequence
from math import log

from analysis.core.estimates.misses import MissReading
from analysis.core.records.demands import STRENGTHS
from analysis.core.records.estimates import Finding
from analysis.core.records.messages import Message, Words
from analysis.core.records.terms import STYLE_WORDS
from analysis.core.records.weak_link import StyleReading
from analysis.core.records.wording import percent
from analysis.core.settings import Settings
from analysis.core.weak_link.estimate import Estimate
from analysis.core.weak_link.explain import expected_chances
from analysis.core.weak_link.kinds import PreparedLog
from analysis.core.weak_link.notes import USUAL_LINK
from analysis.core.weak_link.posterior import told_chances
from analysis.core.weak_link.problem import MISSED
from analysis.core.weak_link.words import LINK_WORDS

UNEXPECTED = 0.04  # chance of a position below which the model rarely stops a bar there (calibration)
HEAVY_MADE_WORTH = 0.5  # of a miss: a made lift's slowest height tells less (calibration)
LEAST_MISSES = 2  # below it no number of slow lifts names a link (common practice, no source)
KeptName = Callable[[str], bool]  # whether a link was named before the last days


def why_not_enough(
    log_of: PreparedLog,
    readings: Sequence[MissReading],
    found: Estimate,
    styles: Sequence[StyleReading],
    findings: Sequence[Finding],
    settings: Settings,
    kept: KeptName,
) -> tuple[Words, ...]:
    """Every reason why no link is named yet, in plain words; none = a link may be named."""
    main = styles[0]
    reasons: list[Words] = [f.text for f in findings if f.code in ("sudden-fall", "position-not-strength")]
    lead = leading_link(main)
    if not enough(log_of, readings, found, main.style, settings):
        number = telling_lifts(log_of, readings, found, main.style, settings)
        heavy = percent(settings["miss.heavy_share"])
        reasons.append(
            f"{number:g} of {settings['miss.least']:g} heavy lifts that count, at {heavy} or more of the best in "
            f"{settings['miss.weeks']:g} weeks (at least {LEAST_MISSES} of them misses; a made lift with its slowest "
            "height counts half)"
        )
    if main.rests_on_sets == 0:
        reasons.append(f"no usable {STYLE_WORDS[main.style]} set from the floor to set a level")
    opposed = contradiction(readings, main.style)
    reasons += [opposed] if opposed else []
    chance = main.chance(lead)
    if not clear(chance, lead, settings, kept):
        top = sorted(main.chances, key=lambda c: -c.chance)[:2]
        reasons.append("the chances are not clearly apart: " + ", ".join(c.words for c in top))
    elif shift(found, lead, chance) < settings["weak.least_shift"]:
        reasons.append(f"the log has hardly raised the chance of {LINK_WORDS[lead]} over what this build starts with")
    return tuple(reasons)


def leading_link(main: StyleReading) -> str:
    """The link with the greatest chance."""
    return max(main.chances, key=lambda c: c.chance).link


def clear(chance: float, link: str, settings: Settings, kept: KeptName) -> bool:
    """Whether a chance is clear: from the one limit on, or above the lower one when the name was given before."""
    if chance >= settings["weak.clear_chance"]:
        return True
    return chance >= settings["weak.keep_chance"] and kept(link)


def shift(found: Estimate, link: str, chance: float) -> float:
    """How far the log has moved a limiter's log odds from those of this body and style before any log."""
    before = float(told_chances(found.posterior.before[0])[STRENGTHS.index(link)])
    return _log_odds(chance) - _log_odds(before)


def _log_odds(chance: float) -> float:
    held = min(max(chance, 1e-4), 1.0 - 1e-4)
    return log(held / (1.0 - held))


def enough(
    log_of: PreparedLog, readings: Sequence[MissReading], found: Estimate, style: str, settings: Settings
) -> bool:
    """Three telling lifts, two of them misses."""
    return (
        telling_lifts(log_of, readings, found, style, settings) >= settings["miss.least"]
        and counted_misses(readings, style) >= LEAST_MISSES
    )


def counted_misses(readings: Sequence[MissReading], style: str) -> int:
    """Misses of a style that count for a muscle, or for the hands when more of them opened."""
    own = [r for r in readings if r.set.tags.style == style]
    return max(sum(r.counts for r in own), sum(r.code == "grip" for r in own))


def unexplained_positions(found: Estimate) -> Finding | None:
    """Said when at least half of the misses stopped where the model rarely stops this lifter's bar."""
    misses = tuple(s for s in found.found.evidence.stuck if s.quality == MISSED)
    expected = expected_chances(found.problem, found.posterior, 0, misses)
    odd = sum(chance < UNEXPECTED for chance in expected)
    if not expected or 2 * odd < len(expected):
        return None
    numbers = (("misses", float(odd)), ("of", float(len(expected))))
    return Finding("rarely-there", Message("weak.rarely-there", {"odd": odd, "misses": len(expected)}), "note", numbers)


def contradiction(readings: Sequence[MissReading], style: str) -> str | None:
    """Words when what was seen to give way points to two links almost equally often."""
    links = [USUAL_LINK.get(r.set.gave_way) for r in readings if r.counts and r.set.tags.style == style]
    tally = Counter(STRENGTHS[link] for link in links if link is not None).most_common(2)
    if len(tally) < 2 or tally[1][1] < 2 or 2 * tally[1][1] < tally[0][1]:
        return None
    seen = " and ".join(f"{count} to {LINK_WORDS[link]}" for link, count in tally)
    return f"the misses contradict one another: what was seen points {seen}"


def telling_lifts(
    log_of: PreparedLog, readings: Sequence[MissReading], found: Estimate, style: str, settings: Settings
) -> float:
    """Misses that count and, at half, made heavy lifts near the best with their slowest height; or opened grips."""
    slow = 0
    for one in found.found.heavy_made:
        level = log_of.levels.get(one.key)
        slow += one.tags.style == style and bool(level) and one.load_kg >= settings["miss.heavy_share"] * (level or 0)
    return counted_misses(readings, style) + HEAVY_MADE_WORTH * slow


def leaning(unexplained: bool, evidence: int) -> str:
    """What the chances are worth while no link is named, in a sentence.

    `unexplained`: half of the misses stopped where the model expects none; `evidence` counts misses and noted lifts.
    """
    if unexplained:
        return "The misses do not fit what the model expects of this build, so do not rely on these chances."
    if evidence < 3:
        return (
            "Too little evidence to name a link: these are mostly the starting beliefs of the model, not findings "
            "about this lifter."
        )
    return "Not clear enough to name a link: a leaning, not a finding."


def status_of(why_not: Sequence[Words]) -> str:
    """ "named" when nothing stands against it."""
    return "not-enough" if why_not else "named"
