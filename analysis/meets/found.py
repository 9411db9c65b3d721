"""The meet and the entry a page is about, for those who may see them."""

from django.shortcuts import get_object_or_404

from athletes.access.permissions import WORKERS, SignedInRequest, athlete_for, club_for
from athletes.models import Meet, MeetEntry


def meet_for(request: SignedInRequest, pk: int) -> Meet:
    """A meet of a club the user works in; 404 for everybody else."""
    meet = get_object_or_404(Meet.objects.select_related("club"), pk=pk)
    club_for(request, meet.club_id, WORKERS)
    return meet


def entry_for(request: SignedInRequest, pk: int, entry: int, write: str = "") -> MeetEntry:
    """An entry: a rival for those who work in the club, a lifter for those who may see the lifter."""
    rows = MeetEntry.objects.select_related("athlete", "athlete__club", "meet", "meet__club")
    found = get_object_or_404(rows.prefetch_related("attempts"), pk=entry, meet_id=pk)
    if found.athlete_id is None:
        club_for(request, found.meet.club_id, WORKERS)
    else:
        found.athlete = athlete_for(request, found.athlete_id, write=write)
    return found
