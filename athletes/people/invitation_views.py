"""Inviting into a club, taking an invitation back, and the page behind its link."""

from django.contrib import messages
from django.contrib.auth import login
from django.contrib.auth.decorators import login_not_required, login_required
from django.http import Http404, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.views.decorators.cache import never_cache
from django.views.decorators.debug import sensitive_post_parameters
from django.views.decorators.http import require_http_methods, require_POST

from athletes.access.permissions import SignedInRequest, club_for, current_club
from athletes.accounts import invitations
from athletes.accounts.mail import own_address
from athletes.accounts.second_factor import qr_svg
from athletes.accounts.sessions import begin_session
from athletes.accounts.sign_in import BACKEND
from athletes.models import Invitation, User
from athletes.models.choices import Role
from athletes.people.club_forms import InvitationForm, JoinForm
from athletes.people.club_views import page


@login_required
@never_cache
@require_POST
def invite(request: SignedInRequest) -> HttpResponse:
    """Queue the mail with the link and show the link once to the owner, who may hand it over."""
    club = club_for(request, current_club(request).pk, [Role.OWNER])
    form = InvitationForm(club, request.POST)
    if not form.is_valid():
        return page(request, club, invitation_form=form)
    row, token = invitations.invite(club, by=request.user, **form.cleaned_data)
    link = own_address(request) + reverse("invitation", args=[token])
    invitations.mail_invitation(row, link)
    return page(request, club, new_invitation=row, link=link, link_code=qr_svg(link))


@login_required
@require_POST
def withdraw(request: SignedInRequest, pk: int) -> HttpResponse:
    club = current_club(request)
    row = get_object_or_404(Invitation, pk=pk, club=club)
    club_for(request, club.pk, [Role.OWNER])
    invitations.withdraw(row, request.user)
    messages.success(request, f"The invitation of {row.email} opens nothing any more.")
    return redirect("club")


@login_not_required
@never_cache
@sensitive_post_parameters("password")
@require_http_methods(["GET", "POST"])
def invitation(request: SignedInRequest, token: str) -> HttpResponse:
    """The page behind the link; used, withdrawn, outdated and invented links look the same."""
    row = invitations.open_invitation(token)
    if row is None:
        return render(request, "invitation_gone.html", status=404)
    if request.user.is_authenticated:
        return _join_signed_in(request, row)
    if User.objects.filter(email__iexact=row.email).exists():
        return render(request, "invitation.html", {"invitation": row, "has_account": True})
    form = JoinForm(row.email, request.POST or None)
    if request.method == "POST" and form.is_valid():
        try:
            user = invitations.join_with_new_account(row, form.instance, form.cleaned_data["password"])
        except invitations.AlreadyUsed:
            return render(request, "invitation_gone.html", status=404)
        login(request, user, backend=BACKEND)
        begin_session(request, user)
        messages.success(request, f"Welcome to {row.club.name}.")
        return redirect("home")
    return render(request, "invitation.html", {"invitation": row, "form": form})


def _join_signed_in(request: SignedInRequest, row: Invitation) -> HttpResponse:
    mine = request.user.email.lower() == row.email
    if request.method == "POST":
        if not mine:
            raise Http404
        try:
            invitations.accept(row, request.user)
        except invitations.AlreadyUsed:
            return render(request, "invitation_gone.html", status=404)
        messages.success(request, f"Welcome to {row.club.name}.")
        return redirect("home")
    return render(request, "invitation.html", {"invitation": row, "signed_in": True, "mine": mine})
