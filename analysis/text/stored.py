"""The one answer about style as it is stored and read again by every page that repeats it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from analysis.core.records.decision import Answer
from analysis.core.records.plain import message_from, to_plain
from analysis.text.say import Reader, say, say_all


@dataclass(frozen=True, slots=True)
class SaidAnswer:
    """Heading, ground and next step of the answer in the reader's words; `lean` is the line above the heading."""

    state: str
    heading: str
    ground: str
    action: str
    lean: str
    reasons_for: list[str]
    reasons_against: list[str]
    cautions: list[str]
    changes: list[str]


def stored_answer(answer: Answer) -> dict[str, Any]:
    """The parts of an answer that other pages repeat, as plain data."""
    plain: dict[str, Any] = to_plain(answer)
    kept = ("state", "heading", "ground", "action", "context", "reasons_for", "reasons_against", "cautions", "changes")
    return {name: plain[name] for name in kept}


def said_answer(payload: Mapping[str, Any], reader: Reader) -> SaidAnswer:
    """A stored answer in one reader's words."""
    many = {
        name: say_all((message_from(one) for one in payload[name]), reader)
        for name in ("ground", "context", "reasons_for", "reasons_against", "cautions", "changes")
    }
    return SaidAnswer(
        state=payload["state"],
        heading=say(message_from(payload["heading"]), reader),
        ground=many["ground"][0] if many["ground"] else "",
        action=say(message_from(payload["action"]), reader),
        lean=joined(many["context"]),
        reasons_for=many["reasons_for"],
        reasons_against=many["reasons_against"],
        cautions=many["cautions"],
        changes=many["changes"],
    )


def joined(parts: list[str]) -> str:
    """Sentences as one line, only the first with a capital."""
    return "; ".join([*parts[:1], *(text[:1].lower() + text[1:] for text in parts[1:])])
