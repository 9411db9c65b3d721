"""What every page's frame needs: where the reader is and what they may open from there."""

from django.http import HttpRequest

from athletes.access.permissions import WORKERS, clubs_where
from athletes.models.choices import Role


def place(request: HttpRequest) -> dict[str, object]:
    user = getattr(request, "user", None)
    if user is None or not user.is_authenticated:
        return {"works_in_club": False, "own_athlete": None}
    return {
        "works_in_club": bool(clubs_where(user, WORKERS)),
        "owns_club": bool(clubs_where(user, [Role.OWNER])),
        "own_athlete": getattr(user, "athlete", None),
        "floor_owner": floor_owner(request),
    }


def floor_owner(request: HttpRequest) -> str:
    """Whose queue and kept pages this phone works with now: "user-club"; empty for those who do not log on a floor."""
    clubs = clubs_where(request.user, WORKERS)
    club = request.session.get("club")
    return f"{request.user.pk}-{club if club in clubs else min(clubs)}" if clubs else ""
