"""The lift log of one athlete: list, add, correct, take back, put back."""

from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.core.paginator import Paginator
from django.http import HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.utils.http import url_has_allowed_host_and_scheme
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from athletes.access.permissions import SignedInRequest, athlete_for, may
from athletes.log import services as log
from athletes.log.forms import LiftFilter, LiftForm
from athletes.log.plan_services import usual_fields
from athletes.log.words import set_line
from athletes.models import Athlete, AuditEntry, LiftSet
from athletes.models.choices import GaveWay, MissPosition, Result

A_PAGE = 50
CAUTION = "Stopped for pain: no more pulls today. Pain goes to a licensed professional before the next heavy day."


@require_safe
@login_required
def lifts(request: SignedInRequest, pk: int) -> HttpResponse:
    athlete = athlete_for(request, pk)
    chosen = LiftFilter(request.GET or None)
    rows = athlete.sets.filter(**chosen.lookups()).select_related("bar").order_by("-day", "-order", "-pk")
    page = Paginator(rows, A_PAGE).get_page(request.GET.get("page"))
    pain_shown = may(request.user, athlete, "health")
    query = request.GET.copy()
    query.pop("page", None)
    return render(
        request,
        "lifts.html",
        {
            "athlete": athlete, "tab": "lifts", "filter": chosen, "page": page, "query": query.urlencode(),
            "heavy": heavy_set(request, athlete), "positions": MissPosition.choices, "changes": GaveWay.choices,
            "lines": [set_line(row, pain_shown) for row in page], "undo": undo_offer(request, athlete),
            "may_note_day": pain_shown, "today": log.club_now(athlete).date(),
        },
    )  # fmt: skip


def undo_offer(request: SignedInRequest, athlete: Athlete) -> AuditEntry | None:
    """The change the reader has just made here and may undo; asked for by the address the change led to."""
    return AuditEntry.objects.filter(athlete=athlete, actor=request.user, pk=asked_number(request, "done")).first()


def heavy_set(request: SignedInRequest, athlete: Athlete) -> LiftSet | None:
    """The heavy made set that was just logged and has no slowest point yet."""
    return athlete.sets.filter(pk=asked_number(request, "heavy"), slowest_at="", result=Result.MADE).first()


def asked_number(request: SignedInRequest, name: str) -> int:
    """A row's number from the address; 0, which no row has, when it is none."""
    asked = request.GET.get(name, "")
    return int(asked) if asked.isascii() and asked.isdecimal() and len(asked) < 19 else 0


@require_http_methods(["GET", "POST"])
@login_required
def lift_new(request: SignedInRequest, pk: int) -> HttpResponse:
    athlete = athlete_for(request, pk, write="log")
    if request.method == "GET":
        form = LiftForm(athlete=athlete, initial=usual_fields(athlete, request.user))
        return form_page(request, athlete, form)
    form = LiftForm(request.POST, athlete=athlete)
    if not form.is_valid():
        return form_page(request, athlete, form)
    row = form.save(commit=False)
    log.log_set(request.user, athlete, row)
    say_logged(request, athlete, row)
    if request.POST.get("then") == "again":
        return redirect(f"{request.path}?{request.GET.urlencode()}")
    heavy = f"?heavy={row.pk}" if ask_slowest(athlete, row) else ""
    return redirect(back_to(request) or reverse("lifts", args=[athlete.pk]) + heavy)


def say_logged(request: SignedInRequest, athlete: Athlete, row: LiftSet) -> None:
    messages.success(request, f"Logged for {athlete.name}: {row}, {row.get_result_display()}.")
    if row.result == Result.STOPPED_PAIN:
        messages.warning(request, CAUTION)


def ask_slowest(athlete: Athlete, row: LiftSet) -> bool:
    """Whether the list should offer the one tap about where a heavy made set was slowest."""
    return not row.slowest_at and not row.what_changed and log.is_heavy(row, log.recent_best_kg(athlete, row))


@require_http_methods(["GET", "POST"])
@login_required
def lift_correct(request: SignedInRequest, pk: int, set: int) -> HttpResponse:
    athlete = athlete_for(request, pk, write="log")
    stored = get_object_or_404(athlete.sets, pk=set)
    if request.method == "GET":
        return form_page(request, athlete, LiftForm(athlete=athlete, instance=stored), stored)
    form = LiftForm(request.POST, athlete=athlete, instance=athlete.sets.get(pk=set))
    stale = request.POST.get("seen", "") not in ("", stamp(stored))
    if stale:
        form.add_error(None, "Somebody changed this set while you had it open; what it is now stands above the form.")
    if stale or not form.is_valid():
        return form_page(request, athlete, form, stored)
    entry = log.correct_set(request.user, stored, form.save(commit=False))
    messages.success(request, "Corrected." if entry else "Nothing was different; the set stays as it is.")
    done = f"?done={entry.pk}" if entry else ""
    return redirect(reverse("lifts", args=[athlete.pk]) + done)


def stamp(row: LiftSet) -> str:
    """Tells one state of a row from another."""
    return row.changed.isoformat()


@require_POST
@login_required
def lift_undo(request: SignedInRequest, pk: int, set: int) -> HttpResponse:
    """Take a set back, or undo its last correction (`what`)."""
    athlete = athlete_for(request, pk, write="log")
    row = get_object_or_404(athlete.sets, pk=set)
    if request.POST.get("what") == "correction":
        entry = log.undo_correction(request.user, row)
        messages.success(request, "The correction is undone." if entry else "This set was never corrected.")
    else:
        entry = log.take_back_set(request.user, row)
        messages.success(request, f"Taken back: {row}.")
    done = f"?done={entry.pk}" if entry else ""
    return redirect(reverse("lifts", args=[athlete.pk]) + done)


@require_POST
@login_required
def lift_put_back(request: SignedInRequest, pk: int, entry: int) -> HttpResponse:
    athlete = athlete_for(request, pk, write="log")
    kept = get_object_or_404(AuditEntry, pk=entry, athlete=athlete, action=log.TAKEN_BACK)
    row = log.put_back_set(request.user, kept)
    messages.success(request, f"Put back: {row}.")
    return redirect("lifts", athlete.pk)


@require_POST
@login_required
def lift_slowest(request: SignedInRequest, pk: int, set: int) -> HttpResponse:
    """One tap after a heavy set: where the bar was slowest, or what changed."""
    athlete = athlete_for(request, pk, write="log")
    stored = get_object_or_404(athlete.sets, pk=set, result=Result.MADE)
    changed = athlete.sets.get(pk=stored.pk)
    for name, words in (("slowest_at", MissPosition), ("what_changed", GaveWay)):
        if request.POST.get(name) in words.values:
            setattr(changed, name, request.POST[name])
    log.correct_set(request.user, stored, changed)
    messages.success(request, f"Noted for {stored}.")
    return redirect("lifts", athlete.pk)


def back_to(request: SignedInRequest) -> str:
    """Where the form was opened from, when that is a page of our own; else nothing."""
    asked = request.GET.get("next", "")
    return asked if asked.startswith("/") and url_has_allowed_host_and_scheme(asked, allowed_hosts=None) else ""


def form_page(
    request: SignedInRequest, athlete: Athlete, form: LiftForm, stored: LiftSet | None = None
) -> HttpResponse:
    history = list(athlete.audit.filter(target=log.target_of(stored.pk)).select_related("actor")) if stored else []
    for entry in history:
        entry.changes = change_lines(entry)
    return render(
        request,
        "lift_form.html",
        {
            "athlete": athlete, "tab": "lifts", "form": form, "stored": stored, "history": history,
            "corrected": any(entry.action == log.CORRECTED for entry in history),
            "seen": stamp(stored) if stored else "",
        },
        status=422 if form.is_bound else 200,
    )  # fmt: skip


def change_lines(entry: AuditEntry) -> list[dict[str, object]]:
    """What a correction changed, one field a line."""
    if entry.action != log.CORRECTED:
        return []
    before, after = entry.before or {}, entry.after or {}
    labels = {name: field.label or name.replace("_", " ") for name, field in LiftForm.base_fields.items()}
    return [
        {"name": labels[name], "before": value_words(name, before.get(name)), "after": value_words(name, value)}
        for name, value in after.items()
        if name in labels
    ]


def value_words(name: str, value: object) -> object:
    """A kept value in words: terms of the lists as people say them; nothing, yes and no are said."""
    if isinstance(value, bool):
        return "yes" if value else "no"
    said = dict(getattr(LiftForm.base_fields[name], "choices", ()))
    return "nothing" if value in (None, "") else said.get(value, value)
