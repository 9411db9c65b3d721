"""The answer of the weak-link page from a stored report: heading, ground, one button, what the next test can say."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from django.urls import reverse

from analysis.core.records.messages import Message, Quantity, Value, Verbatim
from analysis.core.records.plain import message_from
from analysis.text.say import STYLE_NAMES, Reader, say
from athletes.models import Athlete
from athletes.schema.units import show_weight

LIKELY, LEANING = 0.65, 0.55  # chances from which a link is called so; nothing surer until real logs were predicted
SUREST = 0.9  # written 9 in 10; nothing is said more surely
ENOUGH = 3  # counted misses from which a link may be named
WHERE = {
    "floor": "at the floor", "mid-shin": "at mid-shin", "below-knee": "just below the knee", "at-knee": "at the knee",
    "mid-thigh": "at mid-thigh", "lockout": "at lockout",
}  # fmt: skip
NUMBERS = {1: "One", 2: "Two"}
UNDER = 1.0  # kg; a gain that stays below it is not worth a range
AXIS = 200.0  # drawing units of the row of a gain


@dataclass(frozen=True, slots=True)
class Gain:
    """What 5 % more of one link would give: words, and where its dot and its range stand on a line of 200 units."""

    link: str
    words: str
    at: str
    start: str
    width: str


@dataclass(frozen=True, slots=True)
class Outcome:
    """One range of results of the next test, kg on the bar, and what it would say."""

    result: str
    says: str


@dataclass(frozen=True, slots=True)
class Answer:
    """Everything said before the closed lines."""

    style: str
    heading: str
    ground: str
    caption: str
    conflict: str
    button: str
    leads_to: str
    beside_button: str
    stop: bool
    outcomes: tuple[Outcome, ...]
    gains: tuple[Gain, ...]
    chances: tuple[tuple[str, str], ...]


def answer_for(payload: Mapping[str, Any], style: str, athlete: Athlete, reader: Reader, offers: bool) -> Answer:
    """The answer about one style; `offers` says whether the reader may plan a test."""
    reading = next((one for one in payload["styles"] if one["style"] == style), None)
    where, count = stops_of(payload, style)
    state = state_of(payload, reading, where, count)
    values = values_of(payload, reading, where, count)
    test = payload["next_test"] if offers and state not in ("pain", "minor") else None
    button, leads_to = button_of(state, test, athlete, reader)
    ground = {"leaning": "open", "first": "few", "slipped-one": "slipped", "slow-only": "none"}.get(state, state)
    return Answer(
        style=style,
        heading=say(Message(f"link-{state}", values), reader),
        ground=say(Message(f"ground-{ground}", values), reader),
        caption=say(Message(f"caption-{caption_of(payload, reading, where)}", values), reader) if reading else "",
        conflict=say(Message("floor-conflict"), reader) if where == "floor" and count else "",
        button=button,
        leads_to=leads_to,
        beside_button=f"Or {payload['other_tests'][0]['text']}" if test and payload["other_tests"] else "",
        stop=test is not None,
        outcomes=outcomes_of(test, reader) if test else (),
        gains=gains_of(reading["gains"], reader) if reading else (),
        chances=tuple((link.capitalize(), f"{tenths} in 10") for link, tenths in tenths_of(reading)) if reading else (),
    )


def styles_of(payload: Mapping[str, Any]) -> list[tuple[str, str]]:
    """The styles with a reading, the main one first: (style, name)."""
    return [(one["style"], STYLE_NAMES.get(one["style"], one["style"]).capitalize()) for one in payload["styles"]]


def stops_of(payload: Mapping[str, Any], style: str) -> tuple[str, int]:
    """Where the counted misses of a style stopped most often, and how many count; ("", 0) without any."""
    rows = [row for row in payload["misses_by_position"] if row["style"] == style and row["counted"]]
    most = max(rows, key=lambda row: row["counted"], default=None)
    return (most["position"] if most else ""), sum(row["counted"] for row in rows)


def slipped(payload: Mapping[str, Any]) -> int:
    """Misses left out because the hands opened."""
    return sum(row["code"] == "grip" for row in payload["excluded"])


def state_of(payload: Mapping[str, Any], reading: Mapping[str, Any] | None, where: str, count: int) -> str:
    """Which of the page's headings holds; private states come first, because they end the talk of tests."""
    early = {"not-for-beginners": "beginner", "new-baseline": "returning"}.get(payload["status"], "")
    if payload.get("pain"):
        return "pain"
    if payload.get("minor"):
        return "minor"
    if early or reading is None:
        return early or "none"
    if not count:
        opened = slipped(payload)
        if opened:
            return "slipped-one" if opened == 1 else "slipped"
        return "slow-only" if payload["counts"]["heavy_made"] else "none"
    if payload.get("round_lockouts", 0) >= 2 and where == "lockout":
        return "round-lockout"
    slow = payload["counts"]["heavy_made"]
    if count < ENOUGH and not (count == 2 and slow >= 2):
        return "first"
    leading = max(reading["chances"], key=lambda one: one["chance"])["chance"]
    if payload["status"] != "named" or leading < LEANING:
        return "open"
    return "named" if leading >= LIKELY else "leaning"


def values_of(
    payload: Mapping[str, Any], reading: Mapping[str, Any] | None, where: str, count: int
) -> dict[str, Value]:
    """The places of every heading and ground."""
    told = tenths_of(reading) if reading else []
    rest = [f"{link.capitalize() if i == 0 else link} {tenths} in 10" for i, (link, tenths) in enumerate(told[1:])]
    shown = count or slipped(payload)
    few = NUMBERS.get(shown, str(shown))
    expected = reading["sticking_position"] if reading else ""
    return {
        "where": Verbatim(WHERE.get(where, "in one place")),
        "expected": Verbatim(WHERE.get(expected, expected)),
        "link": Verbatim(told[0][0] if told else ""),
        "second": Verbatim(told[1][0] if len(told) > 1 else ""),
        "sure": Verbatim("likely"),
        "count": Verbatim(few if shown < ENOUGH else str(shown)),
        "is": Verbatim("are" if told and told[0][0] in ("hips", "legs") else "is"),
        "miss": Verbatim("miss" if shown == 1 else "misses"),
        "first": Verbatim(f"{told[0][0].capitalize()} {told[0][1]} in 10" if told else ""),
        "rest": Verbatim(", ".join(rest)),
    }


def tenths_of(reading: Mapping[str, Any]) -> list[tuple[str, int]]:
    """Chances of the links in tenths that sum to ten, greatest first; what is under one tenth is "other"."""
    ordered = sorted(reading["chances"], key=lambda one: -one["chance"])
    total = sum(one["chance"] for one in ordered) or 1.0
    exact = [(one["link"], 10.0 * min(one["chance"] / total, SUREST)) for one in ordered]
    whole = {link: int(share) for link, share in exact}
    left = 10 - sum(whole.values()) if exact[0][1] < 10.0 * SUREST else 0
    for link, _ in sorted(exact, key=lambda one: one[1] - int(one[1]), reverse=True)[:left]:
        whole[link] += 1
    named = [(link, whole[link]) for link, _ in exact[:2] if whole[link]]
    other = 10 - sum(tenths for _, tenths in named)
    return [*named, ("other", other)] if other else named


def caption_of(payload: Mapping[str, Any], reading: Mapping[str, Any] | None, where: str) -> str:
    """Which finding stands under the picture."""
    reasons = [one["code"] for one in (*payload["why_not"], *payload["findings"]) if isinstance(one, dict)]
    if reading is None or not where:
        return "none" if reading and reading["sticking_position"] == "below-knee" else "expected"
    if {"weak.unexplained", "rarely-there"} & set(reasons):
        return "rare"
    return "agree" if where == reading["sticking_position"] else "differ"


def button_of(state: str, test: Mapping[str, Any] | None, athlete: Athlete, reader: Reader) -> tuple[str, str]:
    """The one button and where it leads: the test that would tell most, for those who plan; else a logged set."""
    if state == "pain" and not reader.own:
        return say(Message("button-talk"), reader), reverse("health-notes", args=[athlete.pk])
    if test is None:
        return say(Message("button-log"), reader), reverse("lift-new", args=[athlete.pk])
    return say(Message(f"button-{test['key']}"), reader), reverse("plan", args=[athlete.pk])


def outcomes_of(test: Mapping[str, Any], reader: Reader) -> tuple[Outcome, ...]:
    """Three ranges of the test's own load and what each would say; the middle one stays open."""
    told = [message_from(test[end]).values for end in ("if_low", "if_high") if isinstance(test[end], Mapping)]
    bests = [best.value for one in told if isinstance(best := one.get("best"), Quantity)]
    if len(bests) < 2:
        return ()
    share = test["low_kg"] / (0.97 * bests[0])  # of the best, as the test's own range was written
    under, over = (show_weight(round(share * best), reader.weight_unit) for best in bests)
    return (
        Outcome(f"Over {over}", _says(told[1], reader)),
        Outcome(f"{under.split()[0]}–{over}", say(Message("test-open"), reader)),
        Outcome(f"Under {under}", _says(told[0], reader)),
    )


def _says(values: Mapping[str, Value], reader: Reader) -> str:
    link, chance = (one.text if isinstance(one, Verbatim) else "" for one in (values["link"], values["chance"]))
    found = [int(word) for word in chance.split() if word.isdigit()]
    code = "test-sure" if found[:1] > [6] else "test-leaning" if found[:1] > [5] else "test-open"
    return say(Message(code, {"link": Verbatim(link.removeprefix("the "))}), reader)


def gains_of(gains: Sequence[Mapping[str, Any]], reader: Reader) -> tuple[Gain, ...]:
    """Every link's gain, the largest first, on one axis from zero."""
    top = max((one["high_kg"] for one in gains), default=0.0) or 1.0
    rows = []
    for one in sorted(gains, key=lambda g: -g["kg"]):
        low, at, high = (AXIS * max(one[key], 0.0) / top for key in ("low_kg", "kg", "high_kg"))
        words = gain_words(one["low_kg"], one["high_kg"], reader)
        rows.append(Gain(one["link"].capitalize(), words, f"{at:.1f}", f"{low:.1f}", f"{high - low:.1f}"))
    return tuple(rows)


def gain_words(low_kg: float, high_kg: float, reader: Reader) -> str:
    """ "4–8", or "under 1" where even the upper end is less; in the reader's unit, which stands in the heading."""
    if high_kg < UNDER:
        return "under 1" if reader.weight_unit == "kg" else "under 2"
    low, high = (round(float(show_weight(max(kg, 0.0), reader.weight_unit).split()[0])) for kg in (low_kg, high_kg))
    return f"{low}–{high}" if low < high else str(high)
