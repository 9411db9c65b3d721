"""Logs out: a squad or an athlete as a table, an athlete's whole copy, and another club's copy in."""

from uuid import UUID

from django import forms
from django.conf import settings
from django.contrib import messages
from django.core.files.uploadhandler import TemporaryFileUploadHandler
from django.db.models import QuerySet
from django.http import FileResponse, Http404, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.views.decorators.csrf import csrf_exempt, csrf_protect
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from athletes.access.audit import note_looks
from athletes.access.permissions import (
    DECIDERS,
    SignedInRequest,
    athlete_for,
    club_for,
    current_club,
    may,
)
from athletes.access.visibility import is_minor
from athletes.exporting.archive_reader import Copy, read_copy
from athletes.exporting.archive_taking import take_copy
from athletes.exporting.hand_over import hand_over as gather
from athletes.exporting.prepared import ask_for, squad_of
from athletes.importing.files.uploads import LimitedUpload, watches_its_length
from athletes.log.services import club_now
from athletes.log.words import set_line
from athletes.models import Athlete, Club, FileKind, FileState, PreparedFile, User
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


@require_safe
def exports(request: SignedInRequest) -> HttpResponse:
    club = club_for(request, current_club(request).pk, DECIDERS)
    context = {"athletes": squad_of(club, request.user), "files": files_of(request.user, club), "here": "people"}
    return render(request, "exports.html", context)


@require_POST
def export_squad(request: SignedInRequest) -> HttpResponse:
    club = club_for(request, current_club(request).pk, DECIDERS)
    note_looks(request.user, squad_of(club, request.user), "export-squad")
    return redirect("prepared-file", ask_for(FileKind.SQUAD_SETS, request.user, club).uid)


@require_http_methods(["GET", "HEAD", "POST"])
def export_athlete(request: SignedInRequest, pk: int) -> HttpResponse:
    """What can be taken away of one athlete; asking for it has the worker write it."""
    athlete = athlete_for(request, pk, write="health")
    if request.method == "POST":
        kind = FileKind.ATHLETE_COPY if request.POST.get("kind") == FileKind.ATHLETE_COPY else FileKind.ATHLETE_SETS
        return redirect("prepared-file", ask_for(kind, request.user, athlete.club, athlete).uid)
    files = files_of(request.user, athlete.club).filter(athlete=athlete)
    return render(request, "export_athlete.html", {"athlete": athlete, "files": files, "tab": "profile"})


def files_of(user: User, club: Club) -> QuerySet[PreparedFile]:
    """Files that this person has asked for in this club, newest first."""
    return PreparedFile.objects.filter(asked_by=user, club=club).select_related("athlete")


def file_for(request: SignedInRequest, uid: UUID) -> PreparedFile:
    """A file of the reader's own whose content they may still see; 404 for others, 403 once the right is gone."""
    row = get_object_or_404(PreparedFile.objects.select_related("athlete", "club"), uid=uid, asked_by=request.user)
    if row.athlete_id is None:
        club_for(request, row.club_id, DECIDERS)
    else:
        row.athlete = athlete_for(request, row.athlete_id, write="health")
    return row


@require_safe
def prepared_file(request: SignedInRequest, uid: UUID) -> HttpResponse:
    """How far a file is; looks again by itself until it is ready."""
    row = file_for(request, uid)
    waits = row.state in (FileState.WAITING, FileState.WORKING)
    context = {"file": row, "waits": waits, "athlete": row.athlete, "here": "people", "tab": "profile"}
    return render(request, "prepared_file.html", context)


@require_safe
def take_file(request: SignedInRequest, uid: UUID) -> FileResponse:
    row = file_for(request, uid)
    if row.state != FileState.READY or not row.file.storage.exists(str(row.file.name)):
        raise Http404("This file is not kept any more.")
    kind = "application/zip" if row.kind == FileKind.ATHLETE_COPY else "text/csv; charset=utf-8"
    return FileResponse(row.file.open("rb"), as_attachment=True, filename=row.name, content_type=kind)


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
