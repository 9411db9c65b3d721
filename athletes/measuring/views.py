"""The body of one athlete: what was measured, when and by whom; a new visit; a corrected one."""

from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.views.decorators.http import require_http_methods, require_safe

from athletes.access.permissions import SignedInRequest, athlete_for, may, may_see_mass
from athletes.measuring.answer import build_answer
from athletes.measuring.forms import MeasuringForm
from athletes.measuring.how_to import HOW_TO, OVERVIEW
from athletes.measuring.services import delete_visit, measures_of, save_visit
from athletes.measuring.stale import is_minor
from athletes.measuring.table import build_rows, visits_table
from athletes.models import Athlete, MeasuringVisit


@login_required
@require_safe
def build(request: SignedInRequest, pk: int) -> HttpResponse:
    athlete = athlete_for(request, pk)
    today = timezone.localdate()
    see_mass = may_see_mass(request.user, athlete)
    measures = measures_of(athlete, today, with_mass=see_mass)
    may_measure, any_stale = may(request.user, athlete, "measure"), any(m.stale for m in measures.values())
    unit = request.user.length_unit
    context = {
        "athlete": athlete,
        "tab": "build",
        "answer": build_answer(athlete, measures, unit, may_measure=may_measure, stale=any_stale),
        "rows": build_rows(measures, request.user.length_unit, request.user.weight_unit),
        "visits": visits_table(athlete, see_mass),
        "any_stale": any_stale,
        "see_mass": see_mass,
        "may_measure": may_measure,
        "minor": is_minor(athlete, today),
    }
    return render(request, "build.html", context)


@login_required
@require_http_methods(["GET", "POST"])
def measure(request: SignedInRequest, pk: int) -> HttpResponse:
    athlete = athlete_for(request, pk, write="measure")
    return visit_page(request, athlete, MeasuringVisit(athlete=athlete))


@login_required
@require_http_methods(["GET", "POST"])
def measure_edit(request: SignedInRequest, pk: int, visit: int) -> HttpResponse:
    athlete = athlete_for(request, pk, write="measure")
    row = get_object_or_404(MeasuringVisit, athlete=athlete, pk=visit)
    if request.method == "POST" and "delete" in request.POST:
        delete_visit(request.user, row)
        messages.success(request, "The visit is removed; the trail of changes keeps what was measured.")
        return redirect("build", athlete.pk)
    return visit_page(request, athlete, row)


def visit_page(request: SignedInRequest, athlete: Athlete, visit: MeasuringVisit) -> HttpResponse:
    see_mass = may_see_mass(request.user, athlete)
    form = MeasuringForm(athlete, request.user, visit, see_mass, request.POST or None)
    if request.method == "POST" and form.is_valid():
        save_visit(request.user, athlete, form.fill(), form.new_readings(), form.keeps_mass())
        messages.success(request, " ".join(["Saved.", *form.heard()]))
        return redirect("build", athlete.pk)
    context = {
        "athlete": athlete,
        "tab": "build",
        "form": form,
        "visit": visit,
        "minor": is_minor(athlete, timezone.localdate()),
        "mass_kept": not see_mass and any(name.startswith("mass_") for name in form.stored),
    }
    return render(request, "measure.html", context)


@login_required
@require_safe
def how_to_measure(request: HttpRequest) -> HttpResponse:
    return render(request, "how_to_measure.html", {"here": "people", "measures": HOW_TO, "overview": OVERVIEW})
