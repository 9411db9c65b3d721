"""What a coach may ask of the squad page and of the search for misses."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date
from typing import TYPE_CHECKING, Any
from urllib.parse import urlencode

from django import forms
from django.db.models import Q, QuerySet

from athletes.models import Athlete, Club, User
from athletes.models.choices import Standing
from athletes.units.fields import choice_field

if TYPE_CHECKING:
    from analysis.squad.squad_table import SquadLine

FAR = date.max
SORTS: dict[str, tuple[str, Callable[[SquadLine], Any]]] = {
    "urgency": ("what needs an eye first", lambda line: (line.urgency, line.athlete.name_key)),
    "name": ("name", lambda line: line.athlete.name_key),
    "last": ("longest since logged", lambda line: line.last_logged or date.min),
    "heavy": ("longest since heavy", lambda line: line.last_heavy or date.min),
    "meet": ("next meet", lambda line: (line.next_meet or FAR, line.athlete.name_key)),
}


class SquadFilterForm(forms.Form):
    """Filter and order of the squad page; an empty or unknown choice means all, by urgency."""

    who = forms.CharField(label="Name", required=False, max_length=80)
    coach = forms.ChoiceField(label="Squad of", required=False)
    standing = forms.ChoiceField(label="Standing", required=False, choices=[("", "any"), *Standing.choices])
    reason = forms.ChoiceField(label="Only with a reason", required=False)
    order = forms.ChoiceField(
        label="Order", required=False, choices=[(key, label) for key, (label, _) in SORTS.items()]
    )

    REASONS = (
        ("", "any or none"),
        ("heavy-miss", "new heavy miss"),
        ("not-logged", "not logged"),
        ("pain", "pain"),
        ("sore", "soreness"),
        ("rpe-creep", "RPE creep"),
        ("trial-due", "trial decision due"),
        ("meet-near", "meet near"),
        ("measurements-stale", "stale measurements"),
    )

    def __init__(self, *args: Any, club: Club, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        coaches = User.objects.filter(squad__club=club).distinct().order_by("first_name", "pk")
        choice_field(self, "coach").choices = [
            ("", "every coach"),
            ("me", "my own"),
            *((str(c.pk), str(c)) for c in coaches),
        ]
        choice_field(self, "reason").choices = self.REASONS

    def _asked(self) -> dict[str, Any]:
        return self.cleaned_data if self.is_bound and self.is_valid() else {}

    @property
    def query(self) -> str:
        """What was asked for, as the front of a link to another page of it."""
        asked = {name: value for name, value in self.data.items() if name in self.fields and value}
        return f"{urlencode(asked)}&" if asked else ""

    def chosen(self, athletes: QuerySet[Athlete], viewer: User) -> QuerySet[Athlete]:
        """The athletes the form asks for."""
        asked = self._asked()
        wanted = Q()
        if asked.get("who"):
            wanted &= Q(name_key__contains=asked["who"].casefold())
        if asked.get("standing"):
            wanted &= Q(standing=asked["standing"])
        if asked.get("coach"):
            wanted &= Q(coach=viewer.pk if asked["coach"] == "me" else int(asked["coach"]))
        return athletes.filter(wanted)

    def sorted(self, lines: list[SquadLine]) -> list[SquadLine]:
        """The lines that carry the asked-for reason, in the asked-for order."""
        asked = self._asked()
        code = asked.get("reason")
        kept = [x for x in lines if not code or x.row is None or code in {r["code"] for r in x.reasons}]
        return sorted(kept, key=SORTS[asked.get("order") or "urgency"][1])
