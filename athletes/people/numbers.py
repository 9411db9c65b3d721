"""Change the club's or an athlete's numbers, with a trail."""

from collections.abc import Mapping

from django.db import transaction

from athletes.models import Athlete, AuditEntry, Club, SettingOverride, User


@transaction.atomic
def change_numbers(club: Club, athlete: Athlete | None, changes: Mapping[str, float], actor: User) -> list[str]:
    """Store each changed number and who changed it; returns the keys."""
    for key, value in changes.items():
        held = SettingOverride.objects.filter(club=club, athlete=athlete, key=key).first()
        before = {"value": held.value} if held else None
        SettingOverride.objects.update_or_create(
            club=club, athlete=athlete, key=key, defaults={"value": value, "changed_by": actor}
        )
        AuditEntry.objects.create(
            club=club, athlete=athlete, actor=actor, action="changed a number", target=key, before=before,
            after={"value": value},
        )  # fmt: skip
    return list(changes)
