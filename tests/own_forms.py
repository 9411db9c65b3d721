"""Every form of a row that the project has."""

from importlib import import_module
from pathlib import Path
from pkgutil import iter_modules

from django.forms import ModelForm

ROOT = Path(__file__).resolve().parent.parent


def model_forms() -> list[type[ModelForm]]:
    for app in ("athletes", "analysis"):
        package = import_module(f"{app}.forms") if (ROOT / app / "forms").exists() else None
        for found in iter_modules(package.__path__) if package else ():
            import_module(f"{app}.forms.{found.name}")

    def below(form: type[ModelForm]) -> list[type[ModelForm]]:
        return [form, *(d for c in form.__subclasses__() for d in below(c))]

    return [f for f in below(ModelForm) if f.__module__.startswith(("athletes.", "analysis."))]
