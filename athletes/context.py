"""What every page's frame needs: where the reader is and what they may open from there."""

from django.http import HttpRequest

from .models.choices import Role
from .permissions import WORKERS, clubs_where


def place(request: HttpRequest) -> dict[str, object]:
    user = getattr(request, "user", None)
    if user is None or not user.is_authenticated:
        return {"works_in_club": False, "own_athlete": None}
    return {
        "works_in_club": bool(clubs_where(user, WORKERS)),
        "owns_club": bool(clubs_where(user, [Role.OWNER])),
        "own_athlete": getattr(user, "athlete", None),
    }
