from django.apps import AppConfig


class AnalysisConfig(AppConfig):
    name = "analysis"
    default_auto_field = "django.db.models.BigAutoField"
    verbose_name = "What follows from it"

    def ready(self) -> None:
        from analysis.kinds import register_all

        register_all()
