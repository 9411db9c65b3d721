"""How one athlete stands in each style: what was seen with tape and eye, a new entry, a corrected one."""

from dataclasses import dataclass
from datetime import date

from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.db import transaction
from django.http import HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.views.decorators.http import require_http_methods

from athletes.access.audit import fields_of, record
from athletes.access.permissions import SignedInRequest, athlete_for, may
from athletes.measuring.posture_forms import PostureForm
from athletes.measuring.stale import is_stale
from athletes.models import Athlete, Posture, User
from athletes.models.choices import PostureSource, Style
from athletes.schema.postures import SEEN, posture_specs
from athletes.schema.units import show_length

SPECS = posture_specs()


@dataclass(frozen=True)
class Seen:
    """One thing in one style: the words of the newest entry that has it ("" = not seen), when, and how."""

    words: str = ""
    day: date | None = None
    how: str = ""


@dataclass(frozen=True)
class StyleSeen:
    """What is known of one style: each thing in the order of SEEN, every entry, newest first, whether it is too old."""

    label: str
    style: str
    seen: tuple[Seen, ...]
    entries: tuple[tuple[Posture, str], ...]
    stale: bool


def told(entry: Posture, name: str, length_unit: str) -> str:
    """One thing of an entry in words, "" where it was not seen."""
    value = getattr(entry, SPECS[name].column)
    if value in ("", None):
        return ""
    if name == "heels_m":
        return show_length(value, length_unit)
    return f"{value:g}°" if name == "turnout_deg" else str(getattr(entry, f"get_{name}_display")())


def seen_by_style(athlete: Athlete, length_unit: str) -> list[StyleSeen]:
    """Every style with what was seen in it; a style nobody looked at has no entries."""
    today, rows = timezone.localdate(), list(athlete.postures.select_related("author"))
    found = []
    for style in Style:
        entries = [row for row in rows if row.style == style]
        newest = {name: next((e for e in entries if told(e, name, length_unit)), None) for name in SEEN}
        seen = (Seen() if e is None else Seen(told(e, n, length_unit), e.day, taken(e, n)) for n, e in newest.items())
        found.append(
            StyleSeen(
                label=style.label,
                style=style.value,
                seen=tuple(seen),
                entries=tuple((e, entry_words(e, length_unit)) for e in entries),
                stale=any(e is not None and is_stale(athlete, e.day, today) for e in newest.values()),
            )
        )
    return found


def rows_of(styles: list[StyleSeen]) -> list[tuple[str, list[Seen]]]:
    """The page's table: each thing with one cell a style that somebody looked at."""
    return [(SPECS[name].field.label, [style.seen[at] for style in styles]) for at, name in enumerate(SEEN)]


def heading_of(athlete: Athlete, styles: list[StyleSeen]) -> str:
    """The stances in one line, or that nobody has looked yet."""
    stances = [f"{one.seen[0].words} in {one.label}" for one in styles if one.seen[0].words]
    you = athlete.viewer_role == "self"
    if stances:
        return f"{'You stand' if you else f'{athlete.name} stands'} {', '.join(stances)}"
    return f"How {'you stand' if you else f'{athlete.name} stands'} is not measured yet"


def taken(entry: Posture, name: str) -> str:
    """How it was taken, where that makes a difference: stance and toes, and whatever is from a still."""
    measured = name in ("heels_m", "turnout_deg") or entry.source == PostureSource.STILL
    return entry.get_source_display() if measured else ""


def entry_words(entry: Posture, length_unit: str) -> str:
    """Everything in one entry; a stance as it was typed where it was typed in another unit than the reader's."""
    parts = [f"{SPECS[n].field.label.lower()}: {words}" for n in SEEN if (words := told(entry, n, length_unit))]
    if entry.heels_typed and entry.heels_unit != length_unit:
        parts.append(f"typed {entry.heels_typed} {entry.heels_unit}")
    return "; ".join(parts)


@transaction.atomic
def save_posture(actor: User, entry: Posture) -> Posture:
    """Write an entry; the trail keeps what it was before."""
    before = None if entry.pk is None else fields_of(Posture.objects.get(pk=entry.pk))
    entry.author = entry.author or actor
    entry.save()
    record(actor, "added" if before is None else "corrected", entry, before, fields_of(entry))
    return entry


@transaction.atomic
def delete_posture(actor: User, entry: Posture) -> None:
    """Remove an entry; the trail keeps it."""
    record(actor, "deleted", entry, before=fields_of(entry), athlete=entry.athlete)
    entry.delete()


@login_required
@require_http_methods(["GET", "POST"])
def posture(request: SignedInRequest, pk: int) -> HttpResponse:
    """What was seen in each style, and the form of a new entry for those who measure."""
    athlete = athlete_for(request, pk, write="measure" if request.method == "POST" else "")
    return posture_page(request, athlete, Posture(athlete=athlete))


@login_required
@require_http_methods(["GET", "POST"])
def posture_edit(request: SignedInRequest, pk: int, entry: int) -> HttpResponse:
    """An entry to be corrected or removed."""
    athlete = athlete_for(request, pk, write="measure")
    row = get_object_or_404(Posture, athlete=athlete, pk=entry)
    if request.method == "POST" and "delete" in request.POST:
        delete_posture(request.user, row)
        messages.success(request, "The entry is removed; the trail of changes keeps it.")
        return redirect("posture", athlete.pk)
    return posture_page(request, athlete, row)


def posture_page(request: SignedInRequest, athlete: Athlete, row: Posture) -> HttpResponse:
    first: dict[str, str] = {"style": request.GET.get("style", "")} if row.pk is None else {}
    form = PostureForm(athlete, request.user, request.POST or None, instance=row, initial=first)
    if request.method == "POST" and form.is_valid():
        save_posture(request.user, form.save(commit=False))
        messages.success(request, "Saved. Leverages are drawn as the lifter stands from now on.")
        return redirect("posture", athlete.pk)
    styles = seen_by_style(athlete, request.user.length_unit)
    context = {
        "athlete": athlete,
        "tab": "build",
        "form": form,
        "entry": row,
        "styles": styles,
        "looked_at": [one for one in styles if one.entries],
        "rows": rows_of([one for one in styles if one.entries]),
        "heading": heading_of(athlete, styles) if row.pk is None else f"Correct what was seen on {row.day:%-d %B %Y}",
        "writes": may(request.user, athlete, "measure"),
    }
    return render(request, "posture.html", context)
