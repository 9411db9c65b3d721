import os

from django.conf import settings
from django.core.exceptions import ImproperlyConfigured
from django.core.wsgi import get_wsgi_application

os.environ.setdefault("DJANGO_SETTINGS_MODULE", "config.settings")
if not (settings.SECRET_KEY_GIVEN or settings.DEBUG):
    raise ImproperlyConfigured("Set DJANGO_SECRET_KEY, or DJANGO_DEBUG=1 on your own machine.")
application = get_wsgi_application()

# A restored backup must not show anybody who was erased, not even for the first request.
from athletes.privacy.erasure import apply_erasures  # noqa: E402 - needs the application to be set up
from config.collector import look_less_often  # noqa: E402

apply_erasures()
look_less_often()
