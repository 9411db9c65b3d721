"""A weak-link report as it is stored, drawings included, and as a page shows it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from datetime import date, timedelta
from typing import Any

from django.utils.safestring import mark_safe

from analysis.core.leverages.report import leverage_report
from analysis.core.pull.lifter_postures import lifter_postures
from analysis.core.records.lifts import LifterRecord
from analysis.core.records.plain import CoreError, to_plain
from analysis.core.records.pulls import SetupInput, StyleReport
from analysis.core.records.weak_link import StyleReading, WeakLinkReport
from analysis.core.settings import Settings
from analysis.core.training.progress import linked
from analysis.core.training.work import LINKED_ROWS
from analysis.core.weak_link import leaning, weak_link_report
from analysis.core.weak_link.words import tenths
from analysis.figures.ladder import ladder_words
from analysis.figures.picture import limits_picture, pull_picture, window_of
from analysis.figures.utilisation import utilisation_card
from athletes.models.choices import GaveWay, MissPosition, Standing

WINDOW = timedelta(weeks=12)  # misses that still speak for a lifter
ADULT = 18
POSITIONS = dict(MissPosition.choices)
WEIGHED_WORDS = {
    "tired-squats": "hard squats before: about {:.0%} of that tiredness left",
    "tired-pulls": "hard pulls before: about {:.0%} of that tiredness left",
    "sore": "sore that day: like {:.0%} of a hard day's tiredness",
    "over": "{:.0%} of the level: half of the surplus is put on the day",
    "new-bar": "sessions on this bar before: {:.0f}",
}


def compute_weak_link(lifter: LifterRecord, as_of: date, numbers: Settings) -> dict[str, Any]:
    """The report of one athlete with its drawings, as plain data to be stored."""
    report = weak_link_report(lifter, as_of, numbers)
    payload: dict[str, Any] = with_few_links(to_plain(without_series(report)))
    payload |= circumstances(lifter, as_of)
    drawn = drawn_styles(lifter, [reading.style for reading in report.styles])
    for reading, plain in zip(report.styles, payload["styles"], strict=True):
        figure = utilisation_card(reading)
        plain["ladder"] = pull_picture(reading, drawn.get(reading.style), f"pull-{reading.style}")
        plain["limits"] = limits_beside(reading, drawn.get(reading.style))
        plain["ladder_words"] = ladder_words(reading)
        plain["figure"] = to_plain(figure) | {"plot_id": figure.plot_id}
        del plain["curve"]
    return payload


def limits_beside(reading: StyleReading, report: StyleReport | None) -> str:
    """The share of each link's limit on the lifter's floor; "" where the body has no such pull."""
    window = window_of(reading, report)
    if window is None or report is None:
        return ""
    ends = float(report.pull["z_m"][0]), float(report.pull["z_m"][-1])
    return limits_picture(reading, window, ends, f"limits-{reading.style}")


def circumstances(lifter: LifterRecord, as_of: date) -> dict[str, Any]:
    """What decides the heading before any chance: youth, pain, lockout misses with a back still round in 12 weeks."""
    recent = [one for one in lifter.sets if as_of - WINDOW <= one.day <= as_of and one.tags.lift == "deadlift"]
    return {
        "minor": lifter.standing == Standing.UNDER_18 or (lifter.age is not None and lifter.age < ADULT),
        "pain": lifter.pain_noted,
        "round_lockouts": sum(
            MissPosition.LOCKOUT in one.miss_positions and one.gave_way == GaveWay.STRAIGHT_BUT_ROUND for one in recent
        ),
    }


def drawn_styles(lifter: LifterRecord, styles: Sequence[str]) -> dict[str, StyleReport]:
    """This body in each style, for the picture; styles it cannot take are missing."""
    own = lifter_postures(lifter).own
    try:
        asked = [SetupInput(preset=style, own=own.get(style)) for style in styles]
        found = leverage_report(lifter.body, asked, draws=2)
    except CoreError:
        return {}
    return {one.name: one for one in found.styles if one.joints}


def without_series(report: WeakLinkReport) -> WeakLinkReport:
    """The report without the day-by-day bests, which the page does not show and a store should not carry."""
    return replace(report, bests=(), findings=linked(report.findings), classical=linked(report.classical))


def with_few_links(payload: dict[str, Any]) -> dict[str, Any]:
    """Links to at most the latest rows: an address that names thousands of them opens nowhere; `rows` says how many."""
    for part in ("influences", "misses_by_position"):
        for one in payload[part]:
            count, one["set_keys"] = len(one["set_keys"]), one["set_keys"][-LINKED_ROWS:]
            one["rows"] = f"the latest {LINKED_ROWS} of {count} rows" if count > LINKED_ROWS else "rows"
    return payload


def for_page(payload: dict[str, Any]) -> dict[str, Any]:
    """The stored report as the page shows it: days as dates, chances and shares in words."""
    shown = dict(payload)
    for offer in (shown["next_test"], *shown["other_tests"]):
        if offer:
            offer["not_before"] = date.fromisoformat(offer["not_before"])
    counts = shown["counts"]
    unexplained = any(one["code"] == "rarely-there" for one in shown["findings"])
    shown["leaning"] = leaning(unexplained, counts["misses"] + counts["heavy_made"])
    for row in shown["excluded"]:
        row["day"] = date.fromisoformat(row["day"])
    for row in shown["weighed"]:
        row["day"], row["worth"] = date.fromisoformat(row["day"]), f"{100 * row['weight']:.0f} %"
        why = [WEIGHED_WORDS[code].format(number) for code, number in row["reasons"]]
        row["why"] = "; ".join(why) or "nothing against it"
    for row in shown["misses_by_position"]:
        row["position"] = POSITIONS.get(row["position"], "not noted")
        row["shares"] = share_words(row["low_share"], row["high_share"])
    for style in shown["styles"]:
        for name in ("ladder", "limits"):
            style[name] = mark_safe(style[name])  # noqa: S308 - our own drawing; nothing typed is in it
        for link in style["chances"]:
            link["tenths"] = tenths(link["chance"])
    for one in shown["influences"]:
        one["with"], one["without"] = (f"{100 * one[k]:.0f} %" for k in ("chance_with", "chance_without"))
    return shown


def share_words(low: float | None, high: float | None) -> str:
    """Shares of the running best in words: "92-97 %", or a dash when no best is known."""
    if low is None or high is None:
        return "–"
    ends = f"{100 * low:.0f}", f"{100 * high:.0f}"
    return f"{ends[0]} %" if ends[0] == ends[1] else f"{ends[0]}–{ends[1]} %"
