"""The one answer about style as it is stored and read again by every page that repeats it."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from typing import Any

from analysis.core.records.decision import Answer
from analysis.core.records.messages import Level, Message, Private, Quantity, Unit, Value
from analysis.core.records.plain import to_plain
from analysis.text.say import Reader, say, say_all

DAY = re.compile(r"\d{4}-\d{2}-\d{2}")


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


def message_from(plain: Mapping[str, Any]) -> Message:
    """The message that was made plain."""
    values = {name: _value(value) for name, value in plain["values"].items()}
    return Message(plain["code"], values, Level(plain["level"]), _kinds(plain["private"]))


def _value(plain: Any) -> Value:
    if isinstance(plain, dict):
        return Quantity(plain["value"], Unit(plain["unit"]), plain["low"], plain["high"], _kinds(plain["private"]))
    if isinstance(plain, str) and DAY.fullmatch(plain):
        return date.fromisoformat(plain)
    return plain


def _kinds(names: list[str]) -> frozenset[Private]:
    return frozenset(map(Private, names))
