"""What may be shown: minors and their guardian's consent, and groups too small to stay anonymous."""

from collections.abc import Hashable, Mapping, Sequence
from datetime import date, timedelta
from typing import TypeVar

from django.conf import settings
from django.utils import timezone

from athletes.models import Athlete, GuardianConsent
from athletes.models.choices import Standing
from athletes.schema.vocabulary import ADULT_AGE

SMALLEST_GROUP = 5  # below this a chart of a club names the only junior of a class; common practice, no source

Group = TypeVar("Group", bound=Hashable)
Members = TypeVar("Members", bound="Sequence[object] | int")


def is_minor(athlete: Athlete, today: date | None = None) -> bool:
    """Whether the athlete counts as under 18: by birth date, or by standing; either is enough to be careful."""
    age = athlete.age_on(today or timezone.localdate())
    return athlete.standing == Standing.UNDER_18 or (age is not None and age < ADULT_AGE)


def consent_for(athlete: Athlete) -> GuardianConsent | None:
    """The guardian's consent that stands today: the newest one given in the last year (a setting) and not withdrawn."""
    today = timezone.localdate()
    oldest = today - timedelta(days=settings.CONSENT_DAYS)
    standing = athlete.consents.filter(withdrawn_on__isnull=True, given_on__lte=today, given_on__gt=oldest)
    return standing.order_by("-given_on", "-pk").first()


def waits_for_guardian(athlete: Athlete) -> bool:
    """Whether the athlete's own way to their pages is shut: a minor without a guardian's consent."""
    return is_minor(athlete) and consent_for(athlete) is None


def pictures_allowed(athlete: Athlete) -> bool:
    """Whether pictures may be kept and shown: always of an adult, of a minor only while a consent covers them."""
    if not is_minor(athlete):
        return True
    consent = consent_for(athlete)
    return consent is not None and consent.covers_pictures


def may_share(athlete: Athlete) -> bool:
    """Whether a page about the athlete may leave the club by a link; never for a minor, consent or not."""
    return not is_minor(athlete)


def suppress_small_groups(groups: Mapping[Group, Members], least: int = SMALLEST_GROUP) -> dict[Group, Members]:
    """The groups of at least `least` people; a group is a count or a sequence with one entry per person."""
    return {key: members for key, members in groups.items() if _size(members) >= least}


def _size(members: Sequence[object] | int) -> int:
    return members if isinstance(members, int) else len(members)
