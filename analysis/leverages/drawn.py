"""The place Drawn: the style pulled most beside one other as this body can take it, and the answer in words."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from django.db.models import Count
from django.http import QueryDict
from django.urls import reverse

from analysis.core.leverages.findings import StyleStory, rounding_story, stands_measured, story
from analysis.core.leverages.pair import HIPS, pair_ground, pair_heading, pair_price, rounded_pair
from analysis.core.leverages.report import leverage_report, paired_setup
from analysis.core.pull.lifter_postures import lifter_postures
from analysis.core.records.messages import Message
from analysis.core.records.postures import Known
from analysis.core.records.pulls import LeverageReport, StyleReport
from analysis.leverages.page import LABELS, Page, measured_on, stale_lengths
from analysis.leverages.plate import CURVE_CHOICES, CURVES, POSITIONS, handles_of, plate, step_of, written
from analysis.leverages.tables import numbers_table, style_heads
from analysis.leverages.what_if import CHANGES, WhatIfForm
from analysis.store.bridge import latest_readings
from analysis.text.say import TEXTS, Reader, reader_of, say
from athletes.access.permissions import may
from athletes.models import User
from athletes.models.choices import Lift, TrialStatus
from athletes.schema.vocabulary import Style

LEADING = ("stature", "sitting_height", "arm_span", "standing_grip_height")
LINK_WORDS = {
    "ankle": "ankle height", "shank": "lower leg", "thigh": "thigh", "trunk": "trunk", "arm": "arm", "foot": "foot",
    "hip_spacing": "width of the hips", "shoulder_spacing": "width of the shoulders",
}  # fmt: skip
SAME = ("unknown", "floor")  # the bar and the start that change nothing


@dataclass(frozen=True, slots=True)
class Asked:
    """What an address asks for: the form of the second style, the chart, the position of the bar, ghosts.

    `main` is the style that stands first, `other` the one beside it where the address names none.
    """

    main: str
    other: str

    form: WhatIfForm
    curve: str
    at: str
    ghosts: bool
    query: str

    @property
    def changed(self) -> bool:
        """Whether anything departs from the style as this lifter has it."""
        return self.form.is_valid() and any(
            self.form.cleaned_data.get(name) not in (None, "", *SAME) for name in CHANGES
        )


@dataclass(frozen=True, slots=True)
class Step:
    """The one button: what it says, where it leads, and the line under it."""

    words: str
    address: str
    why: str


def main_and_other(page: Page) -> tuple[str, str]:
    """The style pulled most so far, and the one to hold against it: a running trial's, else sumo or conventional."""
    pulls = page.athlete.sets.filter(lift=Lift.DEADLIFT, day__lte=page.day).exclude(style="")
    counted = pulls.values_list("style").annotate(n=Count("pk")).order_by("-n", "style")
    main = next((style for style, _ in counted), Style.CONVENTIONAL.value)
    trial = page.athlete.trials.filter(status=TrialStatus.RUNNING).first()
    if trial is not None:
        return trial.old_style or main, trial.new_style
    return main, Style.SUMO.value if main == Style.CONVENTIONAL else Style.CONVENTIONAL.value


def asked_of(page: Page, data: QueryDict) -> Asked:
    """What the address asks for; a style that is not named is the other one."""
    full, (main, other) = data.copy(), main_and_other(page)
    if "style" not in full:
        full["style"] = other
    curve, at = full.get("curve", "hips"), full.get("at", "")
    full.pop("part", None)
    return Asked(
        main,
        other,
        WhatIfForm(full, page=page),
        curve if curve in CURVES else "hips",
        at if at in POSITIONS else "",
        bool(full.get("ghosts")),
        full.urlencode(),
    )


def pair_report(page: Page, asked: Asked) -> LeverageReport:
    """The lifter's main style and the asked one; where the form is refused or cannot be, the asked style unchanged."""
    main = asked.main
    style = asked.form.cleaned_data["style"] if asked.form.is_valid() else asked.other
    usual = page.usual(style)
    second = replace(asked.form.setup(), name="your change") if asked.changed else usual
    first = page.usual(main)
    if asked.changed and style == main:
        first = paired_setup(first, second, page.body)
    report = leverage_report(page.body, [first, second], page.load_kg)
    error = report.styles[1].error
    if error is None or not asked.changed:
        return report
    asked.form.blame(error.quantity, error.reason)
    return leverage_report(page.body, [page.usual(main), usual], page.load_kg)


def drawn_context(page: Page, asked: Asked, viewer: User) -> dict[str, object]:
    """Everything of the picture and its answer; CoreError when the measurements cannot belong to one body."""
    report, reader = pair_report(page, asked), reader_of(page.athlete, viewer)
    styles = [s for s in report.styles if s.joints]
    base: dict[str, object] = {"asked": asked, "form": asked.form, "step": next_step(page, styles, viewer)}
    base["warnings"] = report.warnings + tuple(w for s in styles for w in s.warnings)
    if len(styles) < 2:
        return base | {
            "heading": "One style cannot be drawn for this body",
            "ground": "; ".join(f"{LABELS.get(s.name, s.name)}: {s.error.reason}" for s in report.styles if s.error),
        }
    first, second = styles
    typed = asked.changed and not asked.form.errors
    picture = plate(report, page, asked.curve, asked.at, asked.ghosts, handles_of(second, page))
    return base | {
        "heading": sentence(pair_heading(first, second, step_of(page)), reader),
        "ground": sentence(pair_ground(first, second, typed), reader),
        "plate": picture,
        "caption": say(picture.caption, reader) if picture.caption else "",
        "price": say(pair_price(first, second), reader),
        "rounded_note": bool(second.setup and second.setup.preset == "rounded"),
        "style": second.setup.preset if second.setup else second.name,
        "choices": choices(page, first.name),
        "curve_choices": CURVE_CHOICES,
        "typed": typed,
        "known": () if typed or first.name == second.name else page.knowing(first, second),
        "limit": page.limits[0],
        "limit_words": widest_words(page),
    }


def widest_words(page: Page) -> str:
    """The closed line of narrow to wide: "78 cm at most, tried with a dowel"."""
    limit = page.limits[0]
    by = "tried with a dowel" if limit.widest_m == page.lifter.comfortable_stance_m else "between the discs"
    return f"{written(limit.widest_m, page)} at most, {by}"


def sentence(message: Message, reader: Reader) -> str:
    """The sentence, in "you" where the athlete reads it and such words exist."""
    own = f"{message.code}-own"
    words = say(replace(message, code=own) if reader.own and own in TEXTS else message, reader)
    return words.replace(" cm", "\u00a0cm").replace(" in:", "\u00a0in:")


def choices(page: Page, main: str) -> list[tuple[str, str]]:
    """The styles that can stand second: (preset, name)."""
    kinds = ["sumo", "wide-sumo", "conventional", *(["rounded"] if page.explains_rounding else [])]
    return [(kind, LABELS[kind] if kind != main else f"{LABELS[kind]}, moved") for kind in kinds]


def next_step(page: Page, styles: Sequence[StyleReport], viewer: User) -> Step | None:
    """What narrows the difference most: the leading lengths first, then a still of the start."""
    athlete = page.athlete
    missing = [key for key in LEADING if key not in page.body.measured_m]
    if missing and may(viewer, athlete, "measure"):
        return Step("Measure", reverse("measure", args=[athlete.pk]), "Four lengths with a tape, five minutes")
    if not stands_measured(*styles) and may(viewer, athlete, "measure"):
        return Step("Measure stance and toes", reverse("posture", args=[athlete.pk]), "Two minutes")
    if any(s.known is not Known.STILLS for s in styles):
        return Step("Add a lift-off still", reverse("pictures", args=[athlete.pk]), "Narrows it most; ask first")
    return None


def details_context(page: Page) -> dict[str, object]:
    """What the closed lines open to, over every style this athlete is shown."""
    report = page.report()
    styles = [s for s in report.styles if s.joints]
    readings = latest_readings(page.athlete, page.day)
    told_styles = stories(styles, page)
    groups = numbers_table(report, page)
    return {
        "report": report,
        "impossible": [(LABELS.get(s.name, s.name), s.error) for s in report.styles if s.error],
        "stories": [(label, one) for label, one in told_styles if one.style != "rounded"],
        "rounded": next((one for _, one in told_styles if one.style == "rounded"), None),
        "rounded_gist": rounded_gist(styles, page),
        "heads": style_heads(report),
        "groups": groups,
        "row_count": sum(len(group.rows) for group in groups),
        "estimated": [LINK_WORDS[k.key] for k in report.body.links if k.origin == "estimated" and k.key in LINK_WORDS],
        "measured_count": len([key for key in page.body.measured_m if key != "mass"]),
        "measured_on": measured_on(readings),
        "stale": stale_lengths(page.athlete, readings, page.day),
        "bounded": bounded_styles(report, page),
        "left_out": page.left_out,
        "not_drawn": [(LABELS[style], why) for style, why in lifter_postures(page.lifter).refused.items()],
    }


def stories(styles: Sequence[StyleReport], page: Page) -> list[tuple[str, StyleStory]]:
    """Each style against the first one, in words."""
    if not styles:
        return []
    first = styles[0]
    found = []
    for style in styles[1:]:
        tell = rounding_story if style.name == "rounded" else story
        found.append((LABELS.get(style.name, style.name), tell(first, style, page.length)))
    return found


def rounded_gist(styles: Sequence[StyleReport], page: Page) -> str:
    """The closed line of the rounded back: "hips 3 cm closer, harder to lock out"."""
    flat = next((s for s in styles if s.name == "conventional"), None)
    rounded = next((s for s in styles if s.name == "rounded"), None)
    if flat is None or rounded is None:
        return ""
    hips = rounded_pair(flat, rounded, HIPS, step_of(page))
    if not hips.way:
        return "hips about the same, harder to lock out"
    return f"hips {written(hips.size, page)} {HIPS.more if hips.way > 0 else HIPS.less}, harder to lock out"


def bounded_styles(report: LeverageReport, page: Page) -> list[tuple[str, str, str]]:
    """Styles whose stance was pulled in: label, the stance drawn, and what bounds it."""
    drawn, usual = {s.name: s for s in report.styles}, page.stances
    return [
        (LABELS[asked.preset], page.length(asked.stance_m), page.limits[0].reason)
        for asked in page.setups
        if asked.stance_m is not None and asked.preset in drawn and asked.stance_m < usual[asked.preset]
    ]
