"""What stands beside the estimate: causes found first, ratios, position against strength, grip, bar and falls."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from datetime import date

from analysis.core.estimates.effort import big_jumps
from analysis.core.estimates.grip_and_bar import bar_findings, grip_findings
from analysis.core.estimates.history import sudden_falls
from analysis.core.estimates.misses import MissReading, position_finding, rounding_from
from analysis.core.records.estimates import Finding, RunningBest
from analysis.core.records.lifts import LifterRecord
from analysis.core.records.messages import Message, load, share
from analysis.core.records.wording import percent
from analysis.core.settings import Settings
from analysis.core.weak_link.kinds import PreparedLog

_CAUSES = {
    "pain": "stopped for pain or on a day with pain: stop, and a licensed professional looks first",
    "grip": "lost to the grip",
    "balance": "lost to balance or the feet: strength is not in doubt",
    "rule": "no lift on a rule: the strength was there",
    "not-tried": "not tried",
    "light": "well below the best: something other than strength",
    "no-level": "without a running best to hold them against",
}
FRONT_LOW, FRONT_HIGH = 0.60, 0.72  # front squat over deadlift (common practice, no source)
ASK_POSITION = 1.10  # block pull below the knee over the floor pull (common practice, no source)
SQUAT_LAG = 1.30  # deadlift over squat


def circumstance_findings(
    lifter: LifterRecord, log: PreparedLog, readings: Sequence[MissReading], style: str, as_of: date, settings: Settings
) -> tuple[Finding, ...]:
    """All findings, what explains misses without any muscle first."""
    block = below_knee_share(log, style)
    position = position_finding(readings, log.sets, style, block, settings)
    found = [
        *cause_findings(readings),
        *sudden_falls(lifter.sets, lifter.days, as_of, settings),
        *big_jumps([s for s in lifter.sets if s.day <= as_of and s.tags.lift == "deadlift"], settings),
        *((position,) if position else _ask_position(block)),
        *ratio_findings(log, style),
        *grip_findings(lifter.sets, as_of, settings),
        *bar_findings(lifter.sets, as_of, settings),
        *_rounding(log, style),
    ]
    return tuple(found)


def cause_findings(readings: Sequence[MissReading]) -> list[Finding]:
    """Misses left out, by cause: each its own finding."""
    groups: dict[str, list[MissReading]] = {}
    for r in readings:
        if r.code:
            groups.setdefault(r.code, []).append(r)
    out = []
    for code in sorted(groups, key=list(_CAUSES).index):
        rows = groups[code]
        number = f"{len(rows)} miss{'es' if len(rows) > 1 else ''}" if code != "not-tried" else f"{len(rows)}"
        weight = "stop" if code == "pain" else "note"
        keys = tuple(r.set.key for r in rows)
        out.append(Finding(f"left-out-{code}", f"{number} {_CAUSES[code]}.", weight, (("misses", len(rows)),), keys))
    return out


def _best_of(log: PreparedLog, **wanted: object) -> RunningBest | None:
    """The running best on the most days among kinds whose tags are as wanted."""
    found = [b for k, b in log.bests.items() if all(getattr(k.tags, name) == value for name, value in wanted.items())]
    return max(found, key=lambda b: b.day_count, default=None)


def below_knee_share(log: PreparedLog, style: str) -> float | None:
    """Running best from a block below the knee (10-30 cm) over that from the floor, same style; None without both."""
    floor = _best_of(log, lift="deadlift", style=style, start="floor")
    blocks = [
        b
        for k, b in log.bests.items()
        if k.tags.lift == "deadlift" and k.tags.style == style and 0.10 <= k.tags.start_offset_m <= 0.30
    ]
    block = max(blocks, key=lambda b: b.day_count, default=None)
    return None if floor is None or block is None else block.now_kg / floor.now_kg


def _ask_position(block: float | None) -> tuple[Finding, ...]:
    """A question, where blocks are pulled much heavier than from the floor and no miss has said why."""
    if block is None or block <= ASK_POSITION:
        return ()
    text = (
        f"The block pull below the knee is {percent(block)} of the floor pull: is the back set flat at the floor? "
        "Look at the start from the side before a link is trained (common practice, no source)."
    )
    return (Finding("ask-start-position", text, "note", (("share", block),)),)


def ratio_findings(log: PreparedLog, style: str) -> list[Finding]:
    """Front squat and squat over the pull: hints only, and only with the depth seen."""
    pull = _best_of(log, lift="deadlift", style=style, start="floor")
    if pull is None:
        return []
    out = []
    front, back = _best_of(log, lift="front-squat"), _best_of(log, lift="squat")
    if front is not None:
        part = front.now_kg / pull.now_kg
        hint = (
            "the legs are hardly the limit"
            if part > FRONT_HIGH
            else "the legs may limit"
            if part < FRONT_LOW
            else "usual"
        )
        out.append(_ratio("front-squat-share", f"Front squat is {percent(part)} of the pull: {hint}", part))
    if back is not None:
        part = pull.now_kg / back.now_kg
        hint = "usual"
        if part < 1.0:
            hint = "check hands, proportions and squat depth; no alarm"
        elif part > SQUAT_LAG:
            hint = "the squat lags"
        out.append(_ratio("pull-over-squat", f"The pull is {part:.2f} of the squat: {hint}", part))
    return out


def _ratio(code: str, text: str, part: float) -> Finding:
    return Finding(code, f"{text} (ratios are hints; common practice, no source).", "note", (("share", part),))


def _rounding(log: PreparedLog, style: str) -> list[Finding]:
    """From which load the back was seen rounded; never a label on the lifter."""
    lightest = rounding_from(log.sets, style)
    pull = _best_of(log, lift="deadlift", style=style, start="floor")
    if lightest is None or pull is None:
        return []
    shapes = Counter(s.tags.shape for s in log.sets if s.tags.style == style)
    part = lightest / pull.now_kg
    text = Message("weak.rounding-from", {"load": load(lightest), "share": share(part)})
    numbers = (("from_kg", lightest), ("share", part), ("flat_sets", float(shapes["flat"])))
    return [Finding("rounding-from", text, "note", numbers)]
