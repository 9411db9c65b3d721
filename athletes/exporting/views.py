"""Logs out: a squad or an athlete as a table, an athlete's whole copy, and another club's copy in."""

from django import forms
from django.conf import settings
from django.contrib import messages
from django.core.files.uploadhandler import TemporaryFileUploadHandler
from django.db.models import QuerySet
from django.http import FileResponse, HttpResponse, StreamingHttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.utils.text import slugify
from django.views.decorators.csrf import csrf_exempt, csrf_protect
from django.views.decorators.http import require_http_methods, require_safe

from athletes.access.audit import note_looks
from athletes.access.permissions import (
    DECIDERS,
    SignedInRequest,
    athlete_for,
    club_for,
    current_club,
    may,
    may_see_mass,
)
from athletes.access.visibility import is_minor
from athletes.exporting.archive_reader import Copy, read_copy
from athletes.exporting.archive_taking import take_copy
from athletes.exporting.archive_writer import write_copy
from athletes.exporting.csv_writer import table
from athletes.exporting.hand_over import hand_over as gather
from athletes.importing.uploads import LimitedUpload, watches_its_length
from athletes.log.services import club_now
from athletes.log.words import set_line
from athletes.models import Athlete, LiftSet
from athletes.models.choices import Standing
from athletes.reader.notes import Refused


class ArchiveForm(forms.Form):
    """The copy and whose consent came with it."""

    file = forms.FileField(
        label="The athlete's copy (ZIP)", allow_empty_file=True, widget=forms.FileInput(attrs={"accept": ".zip"})
    )
    agreed = forms.BooleanField(
        label="The athlete agrees that this club keeps what is in the copy",
        error_messages={"required": "Without the athlete's consent nothing is taken in."},
    )
    agreed_by = forms.CharField(
        label="Who agreed, and how", max_length=120, help_text="Such as: herself, by letter of 3 March."
    )
    guardian = forms.CharField(
        label="Guardian who agreed, for somebody under 18", max_length=80, required=False,
        help_text="Written consent; pictures of a minor stay out until a consent for pictures is recorded here.",
    )  # fmt: skip


def squad_of(request: SignedInRequest) -> list[Athlete]:
    """The athletes whose coach the reader is, in the club they work in; an owner's are all of the club's."""
    club = club_for(request, current_club(request).pk, DECIDERS)
    return [a for a in club.athletes.select_related("club") if may(request.user, a, "decide")]


@require_safe
def exports(request: SignedInRequest) -> HttpResponse:
    return render(request, "exports.html", {"athletes": squad_of(request), "here": "people"})


@require_safe
def export_squad(request: SignedInRequest) -> StreamingHttpResponse:
    athletes = squad_of(request)
    note_looks(request.user, athletes, "export-squad")
    rows = LiftSet.objects.filter(athlete__in=[a.pk for a in athletes])
    return table_response(rows.order_by("athlete__name_key", "athlete_id", "day", "order", "pk"), "squad")


@require_safe
def export_athlete(request: SignedInRequest, pk: int) -> StreamingHttpResponse:
    athlete = athlete_for(request, pk, write="health")
    return table_response(athlete.sets.order_by("day", "order", "pk"), slugify(athlete.name) or "athlete")


def table_response(rows: QuerySet[LiftSet], name: str) -> StreamingHttpResponse:
    """Sets as a CSV download, written as it is read."""
    listed = rows.select_related("athlete", "bar").iterator(chunk_size=2_000)
    response = StreamingHttpResponse(table(listed), content_type="text/csv; charset=utf-8")
    response["Content-Disposition"] = f'attachment; filename="{name}-lifts-{timezone.localdate():%Y-%m-%d}.csv"'
    return response


@require_safe
def archive(request: SignedInRequest, pk: int) -> FileResponse:
    athlete = athlete_for(request, pk, write="health")
    name = f"{slugify(athlete.name) or 'athlete'}-{timezone.localdate():%Y-%m-%d}.zip"
    return FileResponse(
        write_copy(athlete, may_see_mass(request.user, athlete)),
        as_attachment=True,
        filename=name,
        content_type="application/zip",
    )


@watches_its_length
@csrf_exempt
def archive_import(request: SignedInRequest) -> HttpResponse:
    """The length is watched before anything of the body is read; the token is checked right after."""
    request.upload_handlers = [LimitedUpload(request, settings.IMPORT_MAX_BYTES), TemporaryFileUploadHandler(request)]
    return archive_upload(request)


@csrf_protect
@require_http_methods(["GET", "POST"])
def archive_upload(request: SignedInRequest) -> HttpResponse:
    club = club_for(request, current_club(request).pk, DECIDERS)
    form = ArchiveForm(request.POST or None, request.FILES or None)
    if request.method == "POST" and getattr(request, "upload_too_long", False):
        form.add_error(None, f"The file is larger than {settings.IMPORT_MAX_BYTES // 2**20} MB.")
    elif request.method == "POST" and form.is_valid():
        try:
            copy = read_copy(form.cleaned_data["file"])
            need_guardian(copy, form)
            athlete, left_out = take_copy(
                club, request.user, copy, form.cleaned_data["agreed_by"], form.cleaned_data["guardian"]
            )
        except Refused as problem:
            form.add_error("file", str(problem))
        else:
            for said in left_out:
                messages.info(request, said)
            messages.success(request, f"{athlete.name} is here now, with everything the copy holds.")
            return redirect("lifts", athlete.pk)
    status = 422 if form.errors else 200
    return render(request, "import_archive.html", {"form": form, "club": club, "here": "people"}, status=status)


def need_guardian(copy: Copy, form: ArchiveForm) -> None:
    """A minor's copy comes in only with a guardian's name."""
    known = copy.data["athlete"]
    try:
        born = Athlete._meta.get_field("born").to_python(known.get("born"))
    except Exception:
        raise Refused("athlete: “born” is not a date.") from None
    minor = is_minor(Athlete(born=born, standing=str(known.get("standing") or Standing.BEGINNER)))
    if minor and not form.cleaned_data["guardian"].strip():
        raise Refused("This copy is of somebody under 18: name the guardian who agreed in writing.")


@require_safe
def hand_over(request: SignedInRequest, pk: int) -> HttpResponse:
    athlete = athlete_for(request, pk, write="plan")
    pain_shown = may(request.user, athlete, "health")
    today = club_now(athlete).date()
    page = gather(athlete, today, pain_shown)
    lines = [set_line(row, pain_shown) for row in page.sets]
    context = {"athlete": athlete, "tab": "profile", "page": page, "lines": lines, "today": today}
    return render(request, "hand_over.html", context)
