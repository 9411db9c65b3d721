"""The club: who works here, who is invited, which bars stand in the rack."""

from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.http import Http404, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.views.decorators.http import require_http_methods, require_POST

from athletes.access.audit import fields_of, record
from athletes.access.permissions import (
    DECIDERS,
    WORKERS,
    SignedInRequest,
    club_for,
    clubs_where,
    current_club,
    roles_of,
)
from athletes.models import Bar, Club, Membership
from athletes.models.choices import Role
from athletes.people.club_forms import BarForm, ClubForm, InvitationForm, RoleForm
from athletes.people.of_club import LastOwner, change_role, remove_member

LAST_OWNER = "A club keeps at least one owner. Make somebody else an owner first."


def page(request: SignedInRequest, club: Club, **extra: object) -> HttpResponse:
    """The club page with one form possibly filled in; what only an owner may see is added for owners."""
    role = roles_of(request.user)[club.pk]
    members = club.memberships.select_related("user").order_by("user__first_name", "user__last_name", "pk")
    context = {
        "here": "club",
        "club": club,
        "owner": role == Role.OWNER,
        "decides": role in DECIDERS,
        "several_clubs": len(clubs_where(request.user, WORKERS)) > 1,
        "bars": club.bars.order_by("name"),
        "bar_form": BarForm(club),
    }
    if role == Role.OWNER:
        context["members"] = [(member, RoleForm(member)) for member in members]
        context["invitations"] = club.invitations.filter(
            used__isnull=True, withdrawn__isnull=True, expires__gt=timezone.now()
        ).select_related("athlete")
        context["invitation_form"] = InvitationForm(club)
        context["club_form"] = ClubForm(instance=club)
    else:
        context["members"] = [(member, None) for member in members if member.role in WORKERS]
    return render(request, "club.html", context | extra)


@login_required
@require_http_methods(["GET", "POST"])
def club(request: SignedInRequest) -> HttpResponse:
    """Everybody who works here reads it; its name and time zone are the owner's to change."""
    if request.method == "GET":
        return page(request, current_club(request))
    shown = club_for(request, current_club(request).pk, [Role.OWNER])
    before = fields_of(shown)
    form = ClubForm(request.POST, instance=shown)
    if not form.is_valid():
        return page(request, Club.objects.get(pk=shown.pk), club_form=form)
    form.save()
    record(request.user, "corrected", shown, before, fields_of(shown))
    messages.success(request, "Saved.")
    return redirect("club")


@login_required
@require_http_methods(["GET", "POST"])
def choose_club(request: SignedInRequest) -> HttpResponse:
    clubs = clubs_where(request.user, WORKERS)
    if not clubs:
        raise Http404("You do not work in a club.")
    if request.method == "POST":
        chosen = request.POST.get("club", "")
        if not chosen.isdecimal() or int(chosen) not in clubs:
            raise Http404("No such club.")
        request.session["club"] = int(chosen)
        return redirect("home")
    shown = {"here": "club", "clubs": Club.objects.filter(pk__in=clubs), "current": current_club(request)}
    return render(request, "choose_club.html", shown)


def _member(request: SignedInRequest, pk: int) -> Membership:
    """A membership of the owner's own club; another club's is not there, and other roles may not touch one."""
    shown = club_for(request, current_club(request).pk, WORKERS)
    member = get_object_or_404(Membership.objects.select_related("club", "user"), pk=pk, club=shown)
    club_for(request, shown.pk, [Role.OWNER])
    return member


@login_required
@require_POST
def member_role(request: SignedInRequest, pk: int) -> HttpResponse:
    member = _member(request, pk)
    form = RoleForm(member, request.POST)
    if not form.is_valid():
        messages.error(request, f"{member.user}: {' '.join(map(str, form.errors['role']))}")
        return redirect("club")
    try:
        change_role(member, form.cleaned_data["role"], request.user)
    except LastOwner:
        messages.error(request, LAST_OWNER)
        return redirect("club")
    messages.success(request, f"{member.user} is now {member.get_role_display()}.")
    return redirect("club")


@login_required
@require_POST
def member_remove(request: SignedInRequest, pk: int) -> HttpResponse:
    member = _member(request, pk)
    try:
        remove_member(member, request.user)
    except LastOwner:
        messages.error(request, LAST_OWNER)
    else:
        messages.success(request, f"{member.user} no longer has a way into {member.club}.")
    return redirect("home" if member.user == request.user else "club")


@login_required
@require_POST
def leave_club(request: SignedInRequest, pk: int) -> HttpResponse:
    """Leave a club oneself, from the account page."""
    member = get_object_or_404(Membership.objects.select_related("club", "user"), club_id=pk, user=request.user)
    try:
        remove_member(member, request.user)
    except LastOwner:
        messages.error(request, LAST_OWNER)
    else:
        messages.success(request, f"You have left {member.club}.")
    return redirect("account")


@login_required
@require_POST
def bar_add(request: SignedInRequest) -> HttpResponse:
    shown = club_for(request, current_club(request).pk, DECIDERS)
    form = BarForm(shown, request.POST)
    if not form.is_valid():
        return page(request, shown, bar_form=form)
    record(request.user, "added", form.save(), after={"name": form.instance.name})
    messages.success(request, f"{form.instance.name} is in the rack.")
    return redirect("club")


@login_required
@require_http_methods(["GET", "POST"])
def bar(request: SignedInRequest, pk: int) -> HttpResponse:
    """Correct a bar; sets that were pulled with it keep the kind they were logged with."""
    shown = current_club(request)
    row = get_object_or_404(Bar, pk=pk, club=shown)
    club_for(request, shown.pk, DECIDERS)
    before = fields_of(row)
    form = BarForm(shown, request.POST or None, instance=row)
    if request.method == "POST" and form.is_valid():
        record(request.user, "corrected", form.save(), before, fields_of(row))
        messages.success(request, "Saved.")
        return redirect("club")
    return render(request, "bar.html", {"here": "club", "form": form, "bar": Bar.objects.get(pk=pk)})


@login_required
@require_POST
def bar_remove(request: SignedInRequest, pk: int) -> HttpResponse:
    shown = current_club(request)
    row = get_object_or_404(Bar, pk=pk, club=shown)
    club_for(request, shown.pk, DECIDERS)
    record(request.user, "deleted", row, before=fields_of(row), club=shown)
    row.delete()
    messages.success(request, f"{row.name} is out of the rack. Sets pulled with it keep the kind of bar.")
    return redirect("club")
