from django.apps import AppConfig


class AnalysisConfig(AppConfig):
    name = "analysis"
    default_auto_field = "django.db.models.BigAutoField"
    verbose_name = "What follows from it"

    def ready(self) -> None:
        from analysis.kinds import register_all
        from analysis.store.nightly import refresh_new_days
        from athletes.operations.schedule import at_every_hour

        register_all()
        at_every_hour(refresh_new_days)
