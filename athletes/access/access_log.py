"""Who looked at whose pages: one row per viewer, athlete, page kind and day, never for one's own pages."""

from collections.abc import Iterable

from django.contrib.auth.models import AnonymousUser
from django.utils import timezone

from athletes.models import AccessEntry, Athlete, User


def note_look(user: User | AnonymousUser, athlete: Athlete, page: str) -> None:
    """Remember that `user` saw this kind of page today; asks first, so that a second look takes no write lock."""
    if not user.is_authenticated or athlete.user_id == user.pk:
        return
    today = timezone.localdate()
    look = {"athlete_id": athlete.pk, "viewer_id": user.pk, "day": today, "page": page[:40]}
    if not AccessEntry.objects.filter(**look).exists():
        AccessEntry.objects.bulk_create([AccessEntry(**look)], ignore_conflicts=True)


def note_looks(user: User, athletes: Iterable[Athlete], page: str) -> None:
    """Remember one look at many athletes, such as an export of a squad."""
    today = timezone.localdate()
    looks = AccessEntry.objects.filter(viewer_id=user.pk, day=today, page=page[:40])
    noted = set(looks.values_list("athlete_id", flat=True))
    new = [
        AccessEntry(athlete_id=a.pk, viewer_id=user.pk, day=today, page=page[:40])
        for a in athletes
        if a.user_id != user.pk and a.pk not in noted
    ]
    if new:
        AccessEntry.objects.bulk_create(new, ignore_conflicts=True, batch_size=500)
