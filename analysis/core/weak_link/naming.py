"""When a link may be named: enough misses of one style and bar, chances apart, nothing that explains them first."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence

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
from analysis.core.weak_link.kinds import Logged
from analysis.core.weak_link.likelihood import USUAL_LINK
from analysis.core.weak_link.problem import MISSED
from analysis.core.weak_link.words import LINK_WORDS

UNEXPECTED = 0.04  # chance of a position below which it counts as not explained (calibration)
HEAVY_MADE_WORTH = 0.5  # of a miss: a made lift's slowest height tells less (calibration)


def why_not_enough(
    log: Logged,
    readings: Sequence[MissReading],
    found: Estimate,
    styles: Sequence[StyleReading],
    findings: Sequence[Finding],
    settings: Settings,
) -> tuple[Words, ...]:
    """Every reason why no link is named yet, in plain words; none = a link may be named."""
    main = styles[0]
    reasons: list[Words] = [f.text for f in findings if f.code in ("sudden-fall", "position-not-strength")]
    number = telling_lifts(log, readings, found, main.style, settings)
    if number < settings["miss.least"]:
        heavy = percent(settings["miss.heavy_share"])
        reasons.append(
            f"{number:g} of {settings['miss.least']:g} telling lifts at {heavy} or more of the best, same style and "
            f"bar, in {settings['miss.weeks']:g} weeks (a made lift with its slowest height counts half)"
        )
    if main.rests_on_sets == 0:
        reasons.append(f"no usable {STYLE_WORDS[main.style]} set from the floor to set a level")
    reasons += [text for text in (unexplained_positions(found), contradiction(readings, main.style)) if text]
    if not main.clear:
        top = sorted(main.chances, key=lambda c: -c.chance)[:2]
        reasons.append("the chances are not clearly apart: " + ", ".join(c.words for c in top))
    return tuple(reasons)


def unexplained_positions(found: Estimate) -> Message | None:
    """Words when at least half of the misses stopped where the model does not expect this lifter to stop."""
    misses = tuple(s for s in found.found.evidence.stuck if s.quality == MISSED)
    expected = expected_chances(found.problem, found.posterior, 0, misses)
    odd = sum(chance < UNEXPECTED for chance in expected)
    if not expected or 2 * odd < len(expected):
        return None
    return Message("weak.unexplained", {"odd": odd, "misses": len(expected)})


def contradiction(readings: Sequence[MissReading], style: str) -> str | None:
    """Words when what was seen to give way points to two links almost equally often."""
    links = [USUAL_LINK.get(r.set.gave_way) for r in readings if r.counts and r.set.tags.style == style]
    tally = Counter(STRENGTHS[link] for link in links if link is not None).most_common(2)
    if len(tally) < 2 or tally[1][1] < 2 or 2 * tally[1][1] < tally[0][1]:
        return None
    seen = " and ".join(f"{count} to {LINK_WORDS[link]}" for link, count in tally)
    return f"the misses contradict one another: what was seen points {seen}"


def telling_lifts(
    log: Logged, readings: Sequence[MissReading], found: Estimate, style: str, settings: Settings
) -> float:
    """Misses that count, and made heavy lifts at half, of one style on its commonest bar, near the best."""
    tally: Counter[str] = Counter()
    for r in readings:
        if r.counts and r.set.tags.style == style:
            tally[r.set.tags.bar] += 2
    for one in found.found.heavy_made:
        level = log.levels.get(one.key)
        if one.tags.style == style and level and one.load_kg >= settings["miss.heavy_share"] * level:
            tally[one.tags.bar] += round(2 * HEAVY_MADE_WORTH)
    opened = sum(r.code == "grip" and r.set.tags.style == style for r in readings)
    return max([opened, *(count / 2.0 for count in tally.values())], default=0.0)


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
