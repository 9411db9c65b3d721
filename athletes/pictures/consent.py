"""A guardian's consent for a minor: given, withdrawn, and what becomes of the pictures."""

from datetime import date

from django.db import transaction
from django.utils import timezone

from athletes.access.audit import fields_of, record
from athletes.models import Athlete, GuardianConsent, User
from athletes.pictures.services import delete_pictures


def give_consent(athlete: Athlete, guardian: str, given_on: date, covers_pictures: bool, by: User) -> GuardianConsent:
    with transaction.atomic():
        row = GuardianConsent.objects.create(
            athlete=athlete, guardian=guardian, given_on=given_on, covers_pictures=covers_pictures, recorded_by=by
        )
        record(by, "consent given", row, after=fields_of(row), athlete=athlete)
    return row


def withdraw_consent(row: GuardianConsent, pictures_go: bool, by: User) -> None:
    """Withdraw as of today; pictures are hidden by it at once, and deleted when `pictures_go`."""
    with transaction.atomic():
        before = fields_of(row)
        row.withdrawn_on = max(timezone.localdate(), row.given_on)
        row.save(update_fields=["withdrawn_on"])
        record(by, "consent withdrawn", row, before, fields_of(row), athlete=row.athlete)
        if pictures_go:
            delete_pictures(row.athlete, by)
