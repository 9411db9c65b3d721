from django.apps import AppConfig
from django.db.models.signals import post_migrate, pre_migrate


class AthletesConfig(AppConfig):
    name = "athletes"
    default_auto_field = "django.db.models.BigAutoField"
    verbose_name = "Who, and what was logged"

    def ready(self) -> None:
        from athletes.models.triggers import drop_triggers, lay_triggers
        from athletes.operations.schedule import at_every_hour, prune_nightly
        from athletes.web import checks  # noqa: F401 - registers the refusals

        pre_migrate.connect(drop_triggers, sender=self)
        post_migrate.connect(lay_triggers, sender=self)
        at_every_hour(prune_nightly)
