"""Pictures of an athlete's lifts: shown, added, marked, removed; only ever through these checks."""

import logging
from uuid import UUID

from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.core.exceptions import PermissionDenied
from django.http import FileResponse, Http404, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.views.decorators.http import require_GET, require_http_methods, require_POST

from athletes.access.permissions import SignedInRequest, athlete_for, may
from athletes.access.visibility import is_minor, pictures_allowed
from athletes.models import Athlete, Picture
from athletes.pictures import services as keep
from athletes.pictures.forms import MARKS, MarksForm, PictureForm

logger = logging.getLogger(__name__)
NOT_WRITTEN = (
    "The server could not write the picture, so nothing was stored. Choose it again in a while; if that fails too, "
    "tell whoever runs the server that its disk may be full."
)


@login_required
@require_http_methods(["GET", "POST"])
def pictures(request: SignedInRequest, pk: int) -> HttpResponse:
    athlete = athlete_for(request, pk, write="log" if request.method == "POST" else "")
    allowed = pictures_allowed(athlete)
    if request.method == "POST" and not allowed:
        raise PermissionDenied
    form = PictureForm(request.POST or None, request.FILES or None)
    if request.method == "POST" and form.is_valid():
        about = {name: form.cleaned_data[name] for name in ("taken_on", "style", "note")}
        try:
            row = keep.add_picture(athlete, form.cleaned_data["file"], request.user, **about)
        except OSError:
            logger.exception("A picture could not be written")
            form.add_error("file", NOT_WRITTEN)
        else:
            messages.success(
                request, "Kept, without the place and time the camera wrote into it. Put the marks on it now."
            )
            return redirect("picture", pk, row.uid)
    context = {
        "athlete": athlete,
        "tab": "pictures",
        "form": form,
        "allowed": allowed,
        "minor": is_minor(athlete),
        "pictures": [(p, ", ".join(mark for mark in MARKS if mark in p.marks)) for p in athlete.pictures.all()]
        if allowed
        else [],
        "hidden": 0 if allowed else athlete.pictures.count(),
        "manages": may(request.user, athlete, "privacy"),
    }
    return render(request, "pictures.html", context)


def picture_for(request: SignedInRequest, pk: int, uid: UUID, write: str = "") -> tuple[Athlete, Picture]:
    """The athlete and one of their pictures; 404 while a minor's consent does not cover pictures."""
    athlete = athlete_for(request, pk, write=write)
    row = get_object_or_404(Picture, uid=uid, athlete=athlete)
    if not pictures_allowed(athlete):
        raise Http404("No such picture.")
    return athlete, row


@login_required
@require_GET
def picture_file(request: SignedInRequest, pk: int, uid: UUID) -> FileResponse:
    _, row = picture_for(request, pk, uid)
    try:
        return FileResponse(row.file.open("rb"), content_type="image/jpeg", filename=f"lift-{row.taken_on}.jpg")
    except FileNotFoundError as gone:
        raise Http404("The file of this picture is gone.") from gone


@login_required
@require_http_methods(["GET", "POST"])
def picture(request: SignedInRequest, pk: int, uid: UUID) -> HttpResponse:
    """One picture with its marks; by tapping, or by numbers."""
    athlete, row = picture_for(request, pk, uid, write="log" if request.method == "POST" else "")
    form = MarksForm(row, request.POST or None)
    if request.method == "POST" and form.is_valid():
        keep.set_marks(row, form.marks(), request.user)
        messages.success(request, "The marks are kept.")
        return redirect("picture", pk, uid)
    context = {
        "athlete": athlete,
        "tab": "pictures",
        "picture": row,
        "form": form,
        "marks": MARKS,
        "manages": may(request.user, athlete, "privacy"),
    }
    return render(request, "picture.html", context)


@login_required
@require_POST
def picture_remove(request: SignedInRequest, pk: int, uid: UUID) -> HttpResponse:
    """Also while hidden: a withdrawn consent must not keep anybody from deleting."""
    athlete = athlete_for(request, pk, write="privacy")
    keep.delete_picture(get_object_or_404(Picture, uid=uid, athlete=athlete), request.user)
    messages.success(request, "The picture is deleted.")
    return redirect("pictures", pk)


@login_required
@require_POST
def pictures_remove(request: SignedInRequest, pk: int) -> HttpResponse:
    athlete = athlete_for(request, pk, write="privacy")
    keep.delete_pictures(athlete, request.user)
    messages.success(request, "All pictures are deleted.")
    return redirect("pictures", pk)
