"""Typed effort, as RPE or as reps in reserve, into a range of reps in reserve; ranges stay ranges."""

import re

from athletes.units.loads import UnreadableAmount

NUMBER = r"([0-9]{1,2}(?:[.,][0-9]{1,2})?)"
EFFORT = re.compile(
    rf"(?P<before>@|rpe|rir)?\s*@?{NUMBER}(?:\s*(?:-|–|to)\s*{NUMBER})?\s*(?P<after>rpe|rir)?", re.IGNORECASE | re.ASCII
)


def parse_effort(text: str) -> tuple[float | None, float | None]:
    """Lowest and highest reps in reserve; (None, None) for nothing typed.

    "8", "@8.5", "RPE 8-9" are RPE on the scale to 10, whose reps in reserve are 10 minus RPE (common practice, no
    source); "RIR 1-2", "2 RIR" are reps in reserve.
    """
    clean = text.strip()
    if not clean:
        return None, None
    found = EFFORT.fullmatch(clean)
    if not found:
        raise UnreadableAmount(f"Effort “{clean}”: write RPE as 8, 8.5 or 8-9, or reps in reserve as RIR 2 or RIR 1-2.")
    words = {(found.group("before") or "").lower(), (found.group("after") or "").lower()}
    ends = [float(part.replace(",", ".")) for part in found.group(2, 3) if part]
    if "rir" in words and "rpe" in words:
        raise UnreadableAmount(f"Effort “{clean}”: either RPE or RIR, not both.")
    if max(ends) > 10:
        raise UnreadableAmount(f"Effort “{clean}”: RPE and reps in reserve end at 10.")
    if "rir" not in words:
        if min(ends) < 1:
            raise UnreadableAmount(
                f"Effort “{clean}”: RPE begins at 1; for none left in reserve write RPE 10 or RIR 0."
            )
        ends = [10.0 - end for end in ends]
    return min(ends), max(ends)
