"""What happened and a way on, for answers that are errors; the status stays what it is."""

from django.core.exceptions import RequestDataTooBig
from django.http import HttpRequest, HttpResponse, JsonResponse
from django.shortcuts import render
from django.template.loader import select_template
from django.urls import Resolver404, resolve
from django.views.decorators.debug import sensitive_post_parameters

from athletes.accounts import saved_form as held


def bad_request(request: HttpRequest, exception: Exception) -> HttpResponse:
    """handler400; a body that is too long has a status of its own."""
    return too_large(request) if isinstance(exception, RequestDataTooBig) else render(request, "400.html", status=400)


def too_large(request: HttpRequest) -> HttpResponse:
    return render(request, "413.html", status=413)


@sensitive_post_parameters()
def old_form(request: HttpRequest, reason: str = "") -> HttpResponse:
    """A form whose token does not fit; sent from a page of ours it can be looked over and sent again."""
    kept = held.held_from(request) if request.user.is_authenticated and sent_from_here(request) else None
    context = {"held": kept}
    return render(request, "403_csrf.html", context, status=403)


def sent_from_here(request: HttpRequest) -> bool:
    """Whether the browser says that a page of our own sent this; pages elsewhere cannot make it say so."""
    return request.headers.get("Origin", "") == f"{request.scheme}://{request.get_host()}"


@sensitive_post_parameters()
def not_written(request: HttpRequest) -> HttpResponse:
    """503: nothing was kept; what was typed stands in the page, to be sent again."""
    if not request.accepts("text/html"):
        return JsonResponse({"error": "The server takes no entries just now. Nothing was kept."}, status=503)
    return render(request, "503.html", {"held": held.held_from(request)}, status=503)


def with_words(request: HttpRequest, response: HttpResponse) -> HttpResponse:
    """The same answer with a page in it."""
    fallback = "500.html" if response.status_code >= 500 else "400.html"
    page = select_template([f"{response.status_code}.html", fallback])
    response.content = page.render({"above": above(request.path)}, request)
    response.headers["Content-Type"] = "text/html; charset=utf-8"
    return response


def above(path: str) -> str:
    """The nearest address above this one that there is."""
    parts = path.strip("/").split("/")
    for count in range(len(parts) - 1, 0, -1):
        try:
            shorter = f"/{'/'.join(parts[:count])}/"
            resolve(shorter)
        except Resolver404:
            continue
        return shorter
    return "/"
