"""What a form sent when its session was over: it goes through the sign-in and back, and is never kept by the server.

The typed values travel in the pages themselves, from the refused form to the sign-in to a page that sends them again.
Passwords and codes never do.
"""

import json
from dataclasses import asdict, dataclass

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.urls import Resolver404, resolve
from django.utils.cache import add_never_cache_headers

from athletes.accounts.forms import SignInForm

UNMASKED = {"csrfmiddlewaretoken", "held", "code", "next"}
MOST = 2_000_000  # characters; a form of ours has far fewer


@dataclass(frozen=True)
class SavedForm:
    """Where a form was going, and what was typed in it, in order; `files` names what has to be chosen again."""

    to: str
    fields: tuple[tuple[str, str], ...]
    files: tuple[str, ...] = ()

    @property
    def text(self) -> str:
        return json.dumps(asdict(self), ensure_ascii=False)

    @property
    def lines(self) -> list[tuple[str, str]]:
        """What a person can read over: names in words, without what they left empty."""
        return [(name.replace("_", " ").replace("-", " "), value) for name, value in self.fields if value.strip()]


def held_from(request: HttpRequest) -> SavedForm | None:
    """What this request has typed in it; None when that is nothing."""
    if request.method != "POST" or not request.accepts("text/html"):
        return None
    fields = tuple((n, str(v)) for n, values in request.POST.lists() for v in values if holdable(n))
    files = tuple(f.name or name for name, sent in request.FILES.lists() for f in sent)
    return SavedForm(request.get_full_path(), fields, files) if any(v.strip() for _, v in fields) or files else None


def holdable(name: str) -> bool:
    return name not in UNMASKED and "password" not in name


def load_saved_form(text: str) -> SavedForm | None:
    """The form that a sign-in page carries; None when it carries none, or something that is none."""
    try:
        sent = json.loads(text) if text and len(text) <= MOST else {}
        fields = tuple((str(n), str(v)) for n, v in sent["fields"] if holdable(str(n)))
        kept = SavedForm(str(sent["to"]), fields, tuple(str(name) for name in sent["files"]))
        kept.text.encode()  # half a character cannot be shown
        resolve(kept.to.partition("?")[0])
    except (ValueError, KeyError, TypeError, RecursionError, Resolver404):
        return None
    return kept if kept.to.startswith("/") and not kept.to.startswith(("//", "/\\")) else None


def sign_in_page(request: HttpRequest, held: SavedForm) -> HttpResponse:
    """The sign-in with what was typed in it; 401, because nothing was done."""
    context = {"form": SignInForm(request), "next": held.to, "held": held}
    answer = render(request, "sign_in.html", context, status=401)
    add_never_cache_headers(answer)
    return answer


def revalidate(request: HttpRequest, held: SavedForm) -> HttpResponse:
    """After the sign-in: what was typed, to be sent where it was going."""
    answer = render(request, "held.html", {"held": held})
    add_never_cache_headers(answer)
    return answer
