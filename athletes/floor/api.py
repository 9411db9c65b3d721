"""What the board's scripts talk to: the state of the floor, the entries of a phone's queue, a fresh token."""

import hashlib
import json
from collections.abc import Callable
from functools import wraps
from typing import Any

from django.contrib.auth.decorators import login_not_required
from django.core.serializers.json import DjangoJSONEncoder
from django.http import Http404, HttpResponse, JsonResponse
from django.middleware.csrf import get_token
from django.views.decorators.http import require_POST, require_safe

from athletes.access.permissions import WORKERS, SignedInRequest, clubs_where, current_club, may
from athletes.floor.entries import Outcome, take_entry
from athletes.floor.state import board_state, owner_of, told
from athletes.log.services import club_now_of
from athletes.models import Club

AT_ONCE = 50
View = Callable[[SignedInRequest], HttpResponse]


def signed_in_or_401(view: View) -> View:
    """A script gets 401 and keeps its queue, where a page would be sent to sign in."""

    @wraps(view)
    def guarded(request: SignedInRequest) -> HttpResponse:
        if not request.user.is_authenticated:
            return JsonResponse({"why": "signed-out"}, status=401)
        return view(request)

    return login_not_required(guarded)  # the answer above stands in for the way to the sign-in


@require_safe
@signed_in_or_401
def state(request: SignedInRequest) -> HttpResponse:
    club = current_club(request)
    now = club_now_of(club)
    body = json.dumps(board_state(request.user, club, now), cls=DjangoJSONEncoder)
    tag = f'"{hashlib.sha256(body.encode()).hexdigest()[:32]}"'
    same = request.headers.get("If-None-Match") == tag
    answer = HttpResponse(status=304) if same else HttpResponse(body, content_type="application/json")
    answer["ETag"] = tag
    answer["X-Server-Time"] = now.isoformat()
    return answer


@require_safe
@signed_in_or_401
def token(request: SignedInRequest) -> HttpResponse:
    """A fresh CSRF token and who is signed in here, asked for before anything waiting is sent."""
    club = current_club(request)
    return JsonResponse({"token": get_token(request), "owner": owner_of(request.user, club)})


@require_POST
@signed_in_or_401
def entries(request: SignedInRequest) -> HttpResponse:
    """Take in the oldest waiting entries of one phone, in order; the answer says what became of each."""
    if not clubs_where(request.user, WORKERS):
        raise Http404("You do not work in a club.")
    sent = read_body(request)
    if sent is None:
        return JsonResponse({"why": "unreadable", "say": "The entries could not be read."}, status=400)
    club = Club.objects.filter(pk__in=clubs_where(request.user, WORKERS), pk=whole(sent.get("club"))).first()
    if sent.get("user") != request.user.pk or club is None:
        return JsonResponse({"why": "not-yours", "say": "These entries belong to another sign-in."}, status=403)
    done = [take_entry(request.user, club, entry) for entry in sent["entries"]]
    return JsonResponse({"done": [answer_of(request, outcome) for outcome in done]})


def read_body(request: SignedInRequest) -> dict[str, Any] | None:
    """The posted JSON when it has the right shape and only text that can be stored."""
    try:
        sent = json.loads(request.body)
        json.dumps(sent, ensure_ascii=False).encode()
    except (ValueError, RecursionError):
        return None
    entries = sent.get("entries") if isinstance(sent, dict) else None
    if not isinstance(entries, list) or len(entries) > AT_ONCE or not all(isinstance(e, dict) for e in entries):
        return None
    return sent


def whole(value: object) -> int:
    return value if isinstance(value, int) and 0 < value < 2**63 else 0


def answer_of(request: SignedInRequest, outcome: Outcome) -> dict[str, Any]:
    shown = outcome.other or outcome.row
    return {
        "uid": outcome.uid,
        "status": outcome.status,
        "why": outcome.why,
        "set": told(shown, may(request.user, shown.athlete, "health")) if shown else None,
    }
