"""Plan meets: the club's list, a new one, one with its entries and results."""

from collections.abc import Sequence
from datetime import date

from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.http import HttpResponse
from django.shortcuts import redirect, render
from django.views.decorators.http import require_http_methods, require_safe

from analysis.core.records.messages import Message, Quantity, Unit, Value, kg
from analysis.meets.board import entries_of
from analysis.meets.entry import EntryPage, entry_page
from analysis.meets.entry_views import meet_for
from analysis.meets.forms import MeetForm
from analysis.meets.planning import plans_for
from analysis.meets.rules import lifts_of, rules_of
from analysis.meets.sums import entries_of_athlete, listed_meets, standings
from analysis.store.profiles import today_in
from analysis.text.say import Reader, reader_of, say
from athletes.access.audit import note_looks
from athletes.access.permissions import SignedInRequest, athlete_for, current_club, may, may_see_mass
from athletes.meets.services import save_meet
from athletes.models import Meet, MeetEntry
from athletes.models.choices import Lift


@login_required
@require_safe
def meets(request: SignedInRequest) -> HttpResponse:
    """The club's meets, the next ones first."""
    club = current_club(request)
    today = today_in(club)
    ahead, behind = listed_meets(club, today)
    reader = Reader(weight_unit=request.user.weight_unit, length_unit=request.user.length_unit)
    heading, ground = (
        say(message, reader)
        for message in club_heading(ahead, int(getattr(ahead[0], "lifters", 0)) if ahead else 0, today)
    )
    context = {
        "here": "meets", "club": club, "today": today, "ahead": ahead, "behind": behind, "heading": heading,
        "ground": ground,
    }  # fmt: skip
    return render(request, "meets.html", context)


@login_required
@require_http_methods(["GET", "HEAD", "POST"])
def meet_new(request: SignedInRequest) -> HttpResponse:
    """A new meet of the club."""
    club = current_club(request)
    form = MeetForm(request.POST or None, instance=Meet(club=club))
    if request.method == "POST" and form.is_valid():
        saved = save_meet(form.save(commit=False), request.user)
        messages.success(request, f"{saved.name} is kept. Enter the lifters next.")
        return redirect("meet", saved.pk)
    return render(request, "meet_form.html", {"here": "meets", "club": club, "form": form})


@login_required
@require_safe
def meet(request: SignedInRequest, pk: int) -> HttpResponse:
    """One meet: who is entered with which attempts, and the result once there is one."""
    found = meet_for(request, pk)
    entries = entries_of(found)
    rule_set = rules_of(found)
    note_looks(request.user, [entry.own_athlete for entry in entries if entry.athlete_id], "meet")
    context = {
        "here": "meets",
        "meet": found,
        "rows": standings(found, entries),
        "lifts": [Lift(lift).label for lift in lifts_of(found)],
        "rule_set": rule_set,
        "today": today_in(found.club),
    }
    return render(request, "meet.html", context)


@login_required
@require_http_methods(["GET", "HEAD", "POST"])
def meet_edit(request: SignedInRequest, pk: int) -> HttpResponse:
    """Change a meet's day, bar, lifts or rule set."""
    found = meet_for(request, pk)
    form = MeetForm(request.POST or None, instance=found)
    if request.method == "POST" and form.is_valid():
        save_meet(form.save(commit=False), request.user)
        messages.success(request, f"{found.name} is changed.")
        return redirect("meet", pk)
    shown = Meet.objects.get(pk=pk)  # the heading keeps the stored name while the form holds what was typed
    return render(request, "meet_form.html", {"here": "meets", "meet": shown, "form": form})


NAME_WORDS = 4  # of a meet's name in a heading; a longer one is cut, it stands in full below


def short_name(meet: Meet) -> str:
    """The meet's name, cut to what a heading holds."""
    words = meet.name.split()
    return meet.name if len(words) <= NAME_WORDS else " ".join(words[:NAME_WORDS]) + " …"


def days_to(meet: Meet, today: date) -> Quantity:
    """Days from today to the meet."""
    return Quantity((meet.day - today).days, Unit.DAY)


def athlete_heading(ahead: Sequence[tuple[MeetEntry, EntryPage]], today: date, own: bool) -> tuple[Message, Message]:
    """The next meet and whether its attempts are set, with the ground for it."""
    if not ahead:
        return Message("meet.none"), Message("meet.none.own.ground" if own else "meet.none.ground")
    entry, page = ahead[0]
    values: dict[str, Value] = {"meet": short_name(entry.meet), "days": days_to(entry.meet, today)}
    opener = {"opener": kg(page.kept.steps[0].load_kg)} if page.kept else {}
    day = page.plan.day if page.plan else None
    best = {"best": kg(day.median_kg, day.low_kg, day.high_kg)} if day else {}
    if entry.meet.day == today:
        ground = Message("meet.today.ground", opener) if opener else Message("meet.today.open.ground")
        return Message("meet.today", values), ground
    if opener and best:
        return Message("meet.set", values), Message("meet.set.ground", opener | best)
    if best:
        return Message("meet.open", values), Message("meet.open.ground", best)
    return Message("meet.thin", values), Message("meet.thin.ground")


def club_heading(ahead: Sequence[Meet], lifters: int, today: date) -> tuple[Message, Message]:
    """The club's next meet, with how many of its lifters are entered."""
    if not ahead:
        return Message("meet.none"), Message("meet.club.none.ground")
    values: dict[str, Value] = {"meet": short_name(ahead[0]), "days": days_to(ahead[0], today)}
    ground = Message("meet.club.ground", {"lifters": lifters, "day": ahead[0].day})
    return Message("meet.today" if ahead[0].day == today else "meet.club", values), ground


@login_required
@require_safe
def athlete_meets(request: SignedInRequest, pk: int) -> HttpResponse:
    """The meets of one athlete; body mass, class and points only for those who may see them."""
    athlete = athlete_for(request, pk)
    today = today_in(athlete.club)
    sees_health, sees_mass = may(request.user, athlete, "health"), may_see_mass(request.user, athlete)
    ahead, behind = entries_of_athlete(athlete, today)
    plans = plans_for(ahead, request.user)
    planned = [(entry, entry_page(entry, plans[entry.pk], sees_health, sees_mass)) for entry in ahead]
    own, reader = athlete.viewer_role == "self", reader_of(athlete, request.user)
    heading, ground = athlete_heading(planned, today, own)
    context = {
        "tab": "meets",
        "athlete": athlete,
        "heading": say(heading, reader),
        "ground": say(ground, reader),
        "is_today": bool(ahead) and ahead[0].meet.day == today,
        "own": own,
        "next": planned[0] if planned else None,
        "later": planned[1:],
        "behind": [(entry, entry_page(entry, None, sees_health, sees_mass)) for entry in behind],
    }
    return render(request, "athlete_meets.html", context)
