"""The trail of changes as a reader may see it: words, and body mass left out for those who may not see it."""

from dataclasses import dataclass
from datetime import datetime

from athletes.models import AuditEntry

REVEALS_MASS = ("mass", "goal_kg")


@dataclass(frozen=True)
class Change:
    """One field of one entry, before and after, as text."""

    field: str
    before: str
    after: str


@dataclass(frozen=True)
class TrailLine:
    at: datetime
    actor: str
    action: str
    target: str
    changes: list[Change]
    withheld: bool


def trail_line(entry: AuditEntry, sees_mass: bool) -> TrailLine:
    """An audit entry for a reader; without `sees_mass` every field that holds or gives away body mass is left out."""
    before, after = _sides(entry.before), _sides(entry.after)
    names = sorted(before.keys() | after.keys())
    shown = [name for name in names if sees_mass or not _reveals_mass(entry.target, name)]
    return TrailLine(
        at=entry.at,
        actor=str(entry.actor) if entry.actor else "an account that is closed, or the server",
        action=entry.action,
        target=entry.target,
        changes=[Change(name.replace("_", " "), _text(before.get(name)), _text(after.get(name))) for name in shown],
        withheld=len(shown) < len(names),
    )


def _sides(kept: object) -> dict[str, object]:
    """One side of an entry by field; a bare value, as changed numbers were once kept, counts as one field."""
    return kept if isinstance(kept, dict) else {} if kept is None else {"value": kept}


def _reveals_mass(target: str, field: str) -> bool:
    reading = target.startswith(("measurement", "measuring visit")) and field in {"typed", "value"}
    return reading or any(word in field for word in REVEALS_MASS)


def _text(value: object) -> str:
    if value is None or value == "":
        return "nothing"
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, dict):
        return ", ".join(f"{k}: {_text(v)}" for k, v in value.items()) or "nothing"
    return ", ".join(_text(v) for v in value) if isinstance(value, list) else str(value)
