import os

from django.core.wsgi import get_wsgi_application

os.environ.setdefault("DJANGO_SETTINGS_MODULE", "config.settings")
application = get_wsgi_application()

# A restored backup must not show anybody who was erased, not even for the first request.
from athletes.services.erasure import apply_erasures  # noqa: E402 - needs the application to be set up

apply_erasures()
