"""How a lifter stands and starts in one style, as a coach sees it with tape and eye; described once.

Lengths are m and angles degrees in the record; the database keeps cm, as people type them. "" and None mean "not seen".
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import Annotated

from athletes.schema.fields import Field, FieldSpec, specs
from athletes.schema.units import CM, DEGREES
from athletes.schema.vocabulary import Arms, BackShape, BarOverFoot, Knees, PostureSource, Style, _

NARROWEST_HEELS_CM, WIDEST_HEELS_CM = 4.0, 140.0  # feet together to as wide as anyone pulls; from memory
WIDEST_TOES_DEG = 80.0  # from memory


@dataclass(frozen=True, slots=True)
class PostureNote:
    """What one person saw of one lifter in one style on one day; nothing in it is ever required."""

    style: Annotated[str, Field(_("Style"), term=Style)]
    day: Annotated[date, Field(_("Seen on"))]
    source: Annotated[str, Field(_("Stance and toes taken"), term=PostureSource)]
    heels_m: Annotated[
        float | None,
        Field(
            _("Stance, heel middle to heel middle"),
            unit=CM,
            low=NARROWEST_HEELS_CM,
            high=WIDEST_HEELS_CM,
            column="heels_cm",
            typed=("heels_typed", "heels_unit"),
            help=_("Tape on the floor, from the middle of one heel to the middle of the other."),
        ),
    ] = None
    turnout_deg: Annotated[
        float | None,
        Field(
            _("Toes turned out, each foot"),
            unit=DEGREES,
            low=0.0,
            high=WIDEST_TOES_DEG,
            help=_("0 is toes straight ahead; the mean of both feet."),
        ),
    ] = None
    bar_over: Annotated[str, Field(_("Bar at the start, over"), term=BarOverFoot, blank=_("not seen"))] = ""
    arms: Annotated[str, Field(_("Arms as the bar leaves the floor"), term=Arms, blank=_("not seen"))] = ""
    back: Annotated[str, Field(_("Back as the bar leaves the floor"), term=BackShape, blank=_("not seen"))] = ""
    knees: Annotated[str, Field(_("Knees straight"), term=Knees, blank=_("not seen"))] = ""


def posture_specs() -> dict[str, FieldSpec]:
    """The described fields of a posture by name."""
    return specs(PostureNote)


SEEN = ("heels_m", "turnout_deg", "bar_over", "arms", "back", "knees")
