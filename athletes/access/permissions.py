"""The only module that filters by user: 404 for strangers, 403 for readers who write."""

from collections.abc import Iterable

from django.contrib.auth.models import AnonymousUser
from django.core.exceptions import PermissionDenied
from django.db.models import Q, QuerySet
from django.http import Http404, HttpRequest

from athletes.access.audit import note_look
from athletes.access.visibility import waits_for_guardian
from athletes.models import Athlete, Club, Membership, User
from athletes.models.choices import Role


class SignedInRequest(HttpRequest):
    """A request to a page behind the sign-in: its user is one of ours, never anonymous."""

    user: User


class GuardianNeeded(PermissionDenied):
    """Somebody under 18 opens their own pages before a guardian has agreed; answered by the page that asks for one."""


WORKERS = (Role.OWNER, Role.COACH, Role.STAFF)
DECIDERS = (Role.OWNER, Role.COACH)


def roles_of(user: User | AnonymousUser) -> dict[int, str]:
    """Club pk -> role of the user; read once per request object."""
    if not user.is_authenticated:
        return {}
    known = getattr(user, "_roles", None)
    if known is None:
        known = dict(Membership.objects.filter(user=user).values_list("club_id", "role"))
        user._roles = known
    return known


def clubs_where(user: User | AnonymousUser, roles: Iterable[str]) -> list[int]:
    """Pks of the clubs in which the user holds one of the roles."""
    wanted = set(roles)
    return [club for club, role in roles_of(user).items() if role in wanted]


def visible_athletes(user: User | AnonymousUser) -> QuerySet[Athlete]:
    """Athletes a user may see: those of clubs they work in, and themselves."""
    if not user.is_authenticated:
        return Athlete.objects.none()
    return Athlete.objects.filter(Q(club__in=clubs_where(user, WORKERS)) | Q(user=user)).select_related("club")


def role_for(user: User | AnonymousUser, athlete: Athlete) -> str:
    """What the user is to this athlete: "coach", "staff", "self" or "" for a stranger.

    A club owner, and a coach whose squad the athlete is in or who has no coach, are "coach"; a coach of another
    squad reads and logs like staff. A minor is a stranger to their own pages until a guardian agrees.
    """
    role = roles_of(user).get(athlete.club_id, "")
    if role == Role.OWNER:
        return "coach"
    if role == Role.COACH:
        return "coach" if athlete.coach_id in (None, user.pk) else "staff"
    if role == Role.STAFF:
        return "staff"
    own = athlete.user_id is not None and athlete.user_id == user.pk
    return "self" if own and not waits_for_guardian(athlete) else ""


ALLOWED = {
    "read": ("coach", "staff", "self"),
    "log": ("coach", "staff", "self"),  # add a set, correct a row
    "plan": ("coach", "staff"),  # tonight's board and plans
    "measure": ("coach", "staff"),
    "decide": ("coach",),  # standing, settings, trials, decisions
    "health": ("coach", "self"),  # pain, soreness, body mass history
    "privacy": ("coach", "self"),  # who looked, what changed, consent, erasure, removing pictures
}


def may(user: User | AnonymousUser, athlete: Athlete, what: str) -> bool:
    """Whether the user may do `what` (a key of ALLOWED) with this athlete."""
    return role_for(user, athlete) in ALLOWED[what]


def may_see_mass(user: User | AnonymousUser, athlete: Athlete) -> bool:
    """Whether body mass, and with it points, weight class and every N m figure, may be shown to this user.

    The athlete's coach and club owner may, and the athlete, unless they asked not to see it; nobody else.
    """
    role = role_for(user, athlete)
    return role == "coach" or (role == "self" and not athlete.hide_mass_from_athlete)


sees_mass = may_see_mass


def athlete_for(request: HttpRequest, pk: int, write: str = "") -> Athlete:
    """The athlete a page is about; 404 for strangers, 403 when `write` names something the reader may not do."""
    athlete = visible_athletes(request.user).filter(pk=pk).first()
    if athlete is None:
        raise Http404("No such athlete.")
    athlete.viewer_role = role_for(request.user, athlete)
    if not athlete.viewer_role:
        raise GuardianNeeded
    if write and not may(request.user, athlete, write):
        raise PermissionDenied
    if request.method == "GET":
        note_look(request.user, athlete, page_kind(request))
    return athlete


def page_kind(request: HttpRequest) -> str:
    """The name of the address that is being read, as the access log keeps it."""
    return (request.resolver_match.url_name or "") if request.resolver_match else ""


def club_for(request: HttpRequest, pk: int, roles: Iterable[str] = WORKERS) -> Club:
    """The club a page is about; 404 unless the user works there, 403 when their role is not among `roles`."""
    role = roles_of(request.user).get(pk, "")
    if role not in WORKERS:
        raise Http404("No such club.")
    if role not in set(roles):
        raise PermissionDenied
    return Club.objects.get(pk=pk)


def current_club(request: HttpRequest) -> Club:
    """The club whose floor the user works on: the chosen one, else their first; 404 if none."""
    clubs = clubs_where(request.user, WORKERS)
    chosen = request.session.get("club")
    if chosen not in clubs:
        if not clubs:
            raise Http404("You do not work in a club.")
        chosen = min(clubs)
    return Club.objects.get(pk=chosen)
