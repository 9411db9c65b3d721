"""Old logs in: upload, look at every line, answer, fix, take in, undo."""

from django.conf import settings
from django.contrib import messages
from django.core.files.uploadhandler import TemporaryFileUploadHandler
from django.core.paginator import Paginator
from django.http import Http404, HttpResponse, JsonResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.views.decorators.csrf import csrf_exempt, csrf_protect
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from athletes.access.permissions import DECIDERS, WORKERS, SignedInRequest, club_for, clubs_where, current_club
from athletes.importing.change import change_columns, change_make, drop
from athletes.importing.comparing.private import ONLY_THEY, may_unmask, reread_would_unmask, would_unmask
from athletes.importing.files.upload import begin
from athletes.importing.files.uploads import LimitedUpload, watches_its_length
from athletes.importing.fixes import choose, fix
from athletes.importing.forms import ColumnsForm, FixForm, MakeForm, UploadForm
from athletes.importing.moving.cursor import BUSY
from athletes.importing.moving.outcome import sums
from athletes.importing.moving.taking import brought_in, take_in
from athletes.importing.moving.undoing import corrected_since, undo
from athletes.importing.preview import left_words, lines_of, make_words, standing_filter
from athletes.importing.questions import Unanswerable, answer, questions_of
from athletes.importing.tasks import enqueue, is_busy, revive
from athletes.models import ImportBatch, ImportRow
from athletes.reader.notes import Refused

A_PAGE = 50
Status = ImportBatch.Status


def batch_for(request: SignedInRequest, pk: int) -> ImportBatch:
    """An import of a club the reader works in; 404 for everybody else."""
    batch = get_object_or_404(ImportBatch.objects.select_related("club", "athlete"), pk=pk)
    if batch.club_id not in clubs_where(request.user, WORKERS):
        raise Http404("No such import.")
    return batch


def ready_batch(request: SignedInRequest, pk: int) -> ImportBatch | None:
    """An import whose lines can still be changed; None with a message when they cannot."""
    batch = batch_for(request, pk)
    if batch.status == Status.READY:
        return batch
    messages.info(request, f"“{batch.file_name}” is {batch.get_status_display()}: nothing was changed.")
    return None


@require_safe
def imports(request: SignedInRequest) -> HttpResponse:
    club = club_for(request, current_club(request).pk)
    return upload_page(request, UploadForm(club=club))


def upload_page(request: SignedInRequest, form: UploadForm, status: int = 200) -> HttpResponse:
    club = current_club(request)
    page = Paginator(club.imports.select_related("author"), 20).get_page(request.GET.get("page"))
    decides = club.pk in clubs_where(request.user, DECIDERS)
    context = {"form": form, "page": page, "club": club, "here": "people", "decides": decides}
    return render(request, "imports.html", context, status=status)


@watches_its_length
@csrf_exempt
def import_new(request: SignedInRequest) -> HttpResponse:
    """The length is watched before anything of the body is read; the token is checked right after."""
    request.upload_handlers = [LimitedUpload(request, settings.IMPORT_MAX_BYTES), TemporaryFileUploadHandler(request)]
    return import_upload(request)


@csrf_protect
@require_POST
def import_upload(request: SignedInRequest) -> HttpResponse:
    club = current_club(request)
    form = UploadForm(request.POST, request.FILES, club=club)
    if getattr(request, "upload_too_long", False):
        form.add_error(
            "file", f"The file is larger than {settings.IMPORT_MAX_BYTES // 2**20} MB. Split it and import the parts."
        )
    elif form.is_valid():
        try:
            batch = begin(
                club, request.user, form.cleaned_data["file"], settings.IMPORT_MAX_BYTES, form.cleaned_data["athlete"]
            )
        except Refused as problem:
            form.add_error("file", str(problem))
        else:
            enqueue(batch)
            return redirect("import", batch.pk)
    return upload_page(request, form, status=422)


@require_safe
def import_page(request: SignedInRequest, pk: int) -> HttpResponse:
    batch = batch_for(request, pk)
    revive(batch)
    context: dict[str, object] = {
        "batch": batch,
        "sums": sums(batch),
        "here": "people",
        "make_words": make_words(batch),
        "left_words": left_words(batch),
    }
    if batch.status in BUSY:
        return render(request, "import_wait.html", context | {"words": progress_words(batch)})
    show = standing_filter(request.GET.get("show", ""))
    page = Paginator(show.rows(batch), A_PAGE).get_page(request.GET.get("page"))
    context |= {"page": page, "lines": lines_of(page, batch, request.user), "show": show}
    if batch.status == Status.READY:
        context |= {
            "questions": questions_of(batch), "make": MakeForm(batch=batch), "columns": ColumnsForm(batch=batch),
        }  # fmt: skip
    if batch.status == Status.DONE:
        corrected = corrected_since(batch)
        context |= brought_in(batch) | {"corrected": corrected[:100], "corrected_count": corrected.count()}
    return render(request, "import_page.html", context)


@require_POST
def import_step(request: SignedInRequest, pk: int) -> HttpResponse:
    """Where a waiting import is; one that stands still is enqueued again."""
    batch = batch_for(request, pk)
    revive(batch)
    batch.refresh_from_db()
    if request.headers.get("Accept") != "application/json":
        return redirect("import", pk)
    busy = is_busy(batch) and batch.status in BUSY
    return JsonResponse(
        {"busy": busy, "words": progress_words(batch), "read": batch.rows_read, "total": batch.rows_total}
    )


def progress_words(batch: ImportBatch) -> str:
    """Where a waiting import is."""
    phase = batch.options.get("phase")
    if phase == "open":
        of = f" of about {batch.rows_total:,}" if batch.rows_total else ""
        return f"Opening the workbook: {batch.rows_read:,}{of} rows." if batch.rows_read else "Opening the workbook."
    if phase == "read":
        return f"{batch.rows_read:,} of {batch.rows_total:,} lines read."
    comparing = "Comparing with the log."
    if phase == "take":
        parts = len(batch.options["parts"])
        return f"{batch.options['sets']:,} sets taken in, {batch.options['taken']} of {parts} parts."
    if phase in ("undo", "withdraw"):
        return f"{dict(batch.options.get('undo') or {}).get('sets', 0):,} sets taken out again."
    words = {"look": "Looking through the file.", "compare": comparing, "check": comparing}
    return words.get(str(phase), "Waiting.")


@require_POST
def import_answers(request: SignedInRequest, pk: int) -> HttpResponse:
    batch = ready_batch(request, pk)
    if batch is not None:
        given = {k.removeprefix("answer-"): str(v) for k, v in request.POST.items() if k.startswith("answer-")}
        try:
            changed = answer(batch, request.user, given)
        except Unanswerable as problem:
            messages.error(request, str(problem))
        else:
            enqueue(batch)
            messages.success(
                request, f"{changed} answers kept; the lines are read again." if changed else "No answer changed."
            )
    return redirect("import", pk)


@require_POST
def import_make(request: SignedInRequest, pk: int) -> HttpResponse:
    batch = ready_batch(request, pk)
    if batch is not None:
        form = MakeForm(request.POST, batch=batch)
        if not form.is_valid():
            messages.error(request, "; ".join(f"{name}: {e[0]}" for name, e in form.errors.items()))
        else:
            try:
                if not may_unmask(batch, request.user) and reread_would_unmask(batch, form.cleaned_data):
                    raise Refused(ONLY_THEY)
                change_make(batch, form.cleaned_data)
            except Refused as problem:
                messages.error(request, f"Not changed. {problem}")
            else:
                enqueue(batch)
    return redirect("import", pk)


@require_POST
def import_columns(request: SignedInRequest, pk: int) -> HttpResponse:
    batch = ready_batch(request, pk)
    if batch is not None:
        form = ColumnsForm(request.POST, batch=batch)
        if form.is_valid() and not may_unmask(batch, request.user) and would_unmask(batch, form.mapping()):
            messages.error(request, f"Not changed. {ONLY_THEY}")
        elif form.is_valid():
            change_columns(batch, form.mapping())
            enqueue(batch)
        else:
            messages.error(request, "; ".join(f"{form.fields[n].label}: {e[0]}" for n, e in form.errors.items()))
    return redirect("import", pk)


@require_POST
def import_choices(request: SignedInRequest, pk: int) -> HttpResponse:
    batch = ready_batch(request, pk)
    if batch is not None:
        chosen = {
            int(k.removeprefix("choice-")): str(v) for k, v in request.POST.items()
            if k.startswith("choice-") and k.removeprefix("choice-").isascii() and k.removeprefix("choice-").isdigit()
            and len(k) < 20
        }  # fmt: skip
        changed = choose(batch, chosen)
        messages.success(request, f"{changed} choices kept.")
    back = request.POST.get("back", "")
    return redirect(f"/imports/{pk}/?{back}" if back.replace("&", "").replace("=", "").isalnum() else f"/imports/{pk}/")


@require_http_methods(["GET", "POST"])
def import_line(request: SignedInRequest, pk: int, number: int) -> HttpResponse:
    batch = ready_batch(request, pk)
    if batch is None:
        return redirect("import", pk)
    row = get_object_or_404(ImportRow, batch=batch, number=number)
    form = FixForm(request.POST or None, batch=batch, cells=row.fixed or row.raw)
    if request.method == "POST" and form.is_valid():
        as_stood = request.POST.get("then") == "as-stood"
        row = fix(batch, number, None if as_stood else form.cells())
        enqueue(batch)
        row.refresh_from_db()
        if row.status in ("ok", "guess", "duplicate") or as_stood:
            return redirect("import", pk)
        batch = batch_for(request, pk)
    context = {
        "batch": batch,
        "row": row,
        "form": form,
        "line": lines_of([row], batch, request.user)[0],
        "here": "people",
    }
    return render(request, "import_line.html", context)


@require_POST
def import_take(request: SignedInRequest, pk: int) -> HttpResponse:
    batch = ready_batch(request, pk)
    if batch is not None:
        why_not = take_in(batch)
        if why_not:
            messages.warning(request, why_not)
        else:
            enqueue(batch)
    return redirect("import", pk)


@require_POST
def import_undo(request: SignedInRequest, pk: int) -> HttpResponse:
    batch = batch_for(request, pk)
    why_not = undo(batch, request.user, request.POST.get("corrected", ""))
    if why_not:
        messages.warning(request, why_not)
        return redirect("import", pk)
    enqueue(batch)
    batch.refresh_from_db()
    if batch.status == Status.UNDONE:
        messages.success(request, undone_words(batch))
    return redirect("import", pk)


def undone_words(batch: ImportBatch) -> str:
    """How much of an import came out of the log."""
    done = batch.options["undo"]
    words = [f"{done['sets']} sets"] if done["sets"] or not done["readings"] else []
    words += [f"{done['readings']} readings"] if done["readings"] else []
    return f"{' and '.join(words)} of “{batch.file_name}” are out of the log again."


@require_POST
def import_drop(request: SignedInRequest, pk: int) -> HttpResponse:
    batch = batch_for(request, pk)
    dropped = drop(batch)
    messages.success(
        request,
        f"“{batch.file_name}” is put away." if dropped else "Only an import without sets in the log can be put away.",
    )
    return redirect("imports" if dropped else "import", *([] if dropped else [pk]))
