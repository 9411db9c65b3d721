"""Pictures of an athlete's lifts: shown, added, marked, removed; only ever through these checks."""

import logging
from dataclasses import dataclass
from uuid import UUID

from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.core.exceptions import PermissionDenied
from django.http import FileResponse, Http404, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.views.decorators.http import require_GET, require_http_methods, require_POST

from athletes.access.permissions import SignedInRequest, athlete_for, may
from athletes.access.visibility import is_minor, pictures_allowed
from athletes.models import Athlete, Picture
from athletes.pictures import services as keep
from athletes.pictures.forms import MARKS, MarksForm, PictureForm

logger = logging.getLogger(__name__)
MARKED = frozenset(MARKS)
EMPTY = "Three stills from the side, slightly behind, both plates in view, show where the hips really are."
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
    manages = may(request.user, athlete, "privacy")
    context = {
        "athlete": athlete,
        "tab": "pictures",
        "answer": filmed_answer(athlete, allowed=allowed, manages=manages),
        "form": form,
        "allowed": allowed,
        "minor": is_minor(athlete),
        "pictures": [(p, ", ".join(mark for mark in MARKS if mark in p.marks)) for p in athlete.pictures.all()]
        if allowed
        else [],
        "hidden": 0 if allowed else athlete.pictures.count(),
        "manages": manages,
    }
    return render(request, "pictures.html", context)


@dataclass(frozen=True, slots=True)
class FilmedAnswer:
    """Heading, ground, and the one button with where it leads ("" where nothing is to be done)."""

    heading: str
    ground: str
    button: str = ""
    leads_to: str = ""


def filmed_answer(athlete: Athlete, *, allowed: bool, manages: bool) -> FilmedAnswer:
    """What the stills of an athlete say so far and what comes next."""
    if not allowed:
        ground = f"No pictures of {athlete.name} are taken or shown while no guardian's consent covers them."
        button = ("Record a consent", reverse("consent", args=[athlete.pk])) if manages else ()
        return FilmedAnswer("Under 18: a guardian's consent first", ground, *button)
    stills = list(athlete.pictures.all())
    add = ("Add a still", "#add")
    if not stills:
        return FilmedAnswer("No still yet", EMPTY, *add)
    bare = next((one for one in stills if not one.marks.keys() >= MARKED), None)
    count = f"{len(stills)} still{'' if len(stills) == 1 else 's'}"
    if bare is not None:
        marked = sum(one.marks.keys() >= MARKED for one in stills)
        mark = ("Mark the next", reverse("picture", args=[athlete.pk, bare.uid]))
        return FilmedAnswer(f"{count}, {marked} marked", "Hip, shoulder and bar make a still tell hips to bar.", *mark)
    return FilmedAnswer(f"{count}, all marked", "One still cannot tell a habit; three of a style can.", *add)


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
