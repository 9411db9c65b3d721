from django.apps import AppConfig


class AthletesConfig(AppConfig):
    name = "athletes"
    default_auto_field = "django.db.models.BigAutoField"
    verbose_name = "Who, and what was logged"
