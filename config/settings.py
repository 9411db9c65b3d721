"""One settings file, driven by the environment; every default is the safe one."""

import os
import secrets
from pathlib import Path

import dj_database_url
from csp.constants import SELF

from config.environment import Environment

BASE_DIR = Path(__file__).resolve().parent.parent
ENV = Environment(os.environ)
VAR_DIR: Path = ENV("STANCEBOOK_VAR", BASE_DIR / "var")
VAR_DIR.mkdir(parents=True, exist_ok=True)

DEBUG: bool = ENV("DJANGO_DEBUG", False)
# Without a key of its own a process makes one up: commands work, nothing weak is ever used, and the web server
# (config/wsgi.py) refuses to start, because its workers would not agree on who is signed in.
SECRET_KEY_GIVEN = ENV.has("DJANGO_SECRET_KEY")
SECRET_KEY: str = ENV("DJANGO_SECRET_KEY") or secrets.token_urlsafe(60)
if DEBUG and not SECRET_KEY_GIVEN:
    SECRET_KEY = "for-this-machine-only-" + "0" * 40

ALLOWED_HOSTS: list[str] = ENV("DJANGO_ALLOWED_HOSTS", ["localhost", "127.0.0.1", "[::1]"] if DEBUG else [])
# The address people open, such as https://stancebook.example: links in mails are built from it, whatever host a request
# names. Without it they use the request's host, which is one of ALLOWED_HOSTS.
SITE_ADDRESS: str = ENV("STANCEBOOK_ADDRESS", "")
CSRF_TRUSTED_ORIGINS: list[str] = ENV("DJANGO_TRUSTED_ORIGINS", [])

INSTALLED_APPS = [
    "django.contrib.auth",
    "django.contrib.contenttypes",
    "django.contrib.sessions",
    "django.contrib.messages",
    "django.contrib.staticfiles",
    "csp",
    "axes",
    "django_otp",
    "django_otp.plugins.otp_totp",
    "django_otp.plugins.otp_static",
    "django_tasks",
    "django_tasks_db",
    "athletes",
    "analysis",
]

MIDDLEWARE = [
    "athletes.operations.request_log.RequestLogMiddleware",
    "csp.middleware.CSPMiddleware",
    "django.middleware.clickjacking.XFrameOptionsMiddleware",
    "config.middleware.StrictHeadersMiddleware",
    "django.middleware.security.SecurityMiddleware",
    "whitenoise.middleware.WhiteNoiseMiddleware",
    "config.middleware.CompressMiddleware",
    "config.middleware.ReadingSessionMiddleware",
    "django.middleware.common.CommonMiddleware",
    "config.middleware.BodyLimitMiddleware",
    "django.middleware.csrf.CsrfViewMiddleware",
    "django.contrib.auth.middleware.AuthenticationMiddleware",
    "config.middleware.SignInFirstMiddleware",
    "django_otp.middleware.OTPMiddleware",
    "django.contrib.messages.middleware.MessageMiddleware",
    "config.middleware.PrivatePagesMiddleware",
    "config.middleware.WordsForErrorsMiddleware",
    "config.middleware.KnownErrorsMiddleware",
    "axes.middleware.AxesMiddleware",
]
CSRF_FAILURE_VIEW = "athletes.web.errors.old_form"

ROOT_URLCONF = "config.urls"
WSGI_APPLICATION = "config.wsgi.application"
# Every room keeps its pages in html/ (names unique over the project) and its scripts in static/ (served under the
# room's name).
ROOMS = sorted(path for app in ("athletes", "analysis") for path in (BASE_DIR / app).iterdir() if path.is_dir())
ROOM_HTML = [room / "html" for room in ROOMS if (room / "html").is_dir()]
STATICFILES_DIRS = [(room.name, room / "static") for room in ROOMS if (room / "static").is_dir()]
TEMPLATES = [
    {
        "BACKEND": "django.template.backends.django.DjangoTemplates",
        "APP_DIRS": True,  # for the packages beside ours; our own pages stand in the html folder of their room
        "DIRS": ROOM_HTML,
        "OPTIONS": {
            "context_processors": [
                "django.template.context_processors.request",
                "django.contrib.auth.context_processors.auth",
                "django.contrib.messages.context_processors.messages",
                "athletes.web.context.place",
            ],
            "libraries": {
                "units": "athletes.web.unit_tags",
                "words": "athletes.web.unit_tags",
                "places": "athletes.web.places",
                "say": "analysis.text.tags",
            },
        },
    }
]

SQLITE_OPTIONS = {
    "timeout": 20,
    "transaction_mode": "IMMEDIATE",
    "init_command": "PRAGMA journal_mode=WAL; PRAGMA synchronous=NORMAL; PRAGMA busy_timeout=20000;",
}
DATABASES = {
    "default": dj_database_url.parse(
        ENV("DATABASE_URL", f"sqlite:///{VAR_DIR / 'stancebook.sqlite3'}"), conn_max_age=60
    )
}
if DATABASES["default"]["ENGINE"].endswith("sqlite3"):
    DATABASES["default"]["OPTIONS"] = SQLITE_OPTIONS
# Tasks wait in the database for `manage.py work`; "immediate" runs each where it is asked for (tests).
TASK_BACKENDS = {
    "database": "django_tasks_db.DatabaseBackend",
    "immediate": "django_tasks.backends.immediate.ImmediateBackend",
}
TASKS = {"default": {"BACKEND": TASK_BACKENDS[ENV("STANCEBOOK_TASKS", "database")]}}
DEFAULT_AUTO_FIELD = "django.db.models.BigAutoField"

AUTH_USER_MODEL = "athletes.User"
AUTHENTICATION_BACKENDS = ["axes.backends.AxesStandaloneBackend", "django.contrib.auth.backends.ModelBackend"]
AUTH_PASSWORD_VALIDATORS = [
    {"NAME": "django.contrib.auth.password_validation.UserAttributeSimilarityValidator"},
    {"NAME": "django.contrib.auth.password_validation.MinimumLengthValidator", "OPTIONS": {"min_length": 10}},
    {"NAME": "django.contrib.auth.password_validation.CommonPasswordValidator"},
    {"NAME": "django.contrib.auth.password_validation.NumericPasswordValidator"},
]
LOGIN_URL = "sign-in"
LOGIN_REDIRECT_URL = "home"
LOGOUT_REDIRECT_URL = "sign-in"
PASSWORD_RESET_TIMEOUT = 3 * 3600
SESSION_COOKIE_AGE = 14 * 24 * 3600
SESSION_COOKIE_HTTPONLY = True
SESSION_COOKIE_SAMESITE = "Lax"
CSRF_COOKIE_SAMESITE = "Lax"

AXES_FAILURE_LIMIT = 6
AXES_COOLOFF_TIME = 0.25  # hours
AXES_USERNAME_FORM_FIELD = "username"  # its default would be "email", which no sign-in form of ours sends
AXES_LOCKOUT_PARAMETERS = [["username", "ip_address"]]
AXES_LOCKOUT_CALLABLE = "athletes.accounts.sign_in.locked_out"
AXES_CLIENT_IP_CALLABLE = "athletes.access.client_address.client_address"
AXES_ENABLE_ADMIN = False
AXES_VERBOSE = False
AXES_RESET_ON_SUCCESS = True

HTTPS: bool = ENV("STANCEBOOK_HTTPS", not DEBUG)
SECURE_SSL_REDIRECT = HTTPS
SECURE_REDIRECT_EXEMPT = [r"^healthz$", r"^readyz$"]  # asked on the machine itself, without the web server in front
SESSION_COOKIE_SECURE = HTTPS
CSRF_COOKIE_SECURE = HTTPS
SECURE_HSTS_SECONDS = 31536000 if HTTPS else 0
SECURE_HSTS_INCLUDE_SUBDOMAINS = HTTPS
SECURE_HSTS_PRELOAD = HTTPS
SECURE_REFERRER_POLICY = "same-origin"
SECURE_CROSS_ORIGIN_OPENER_POLICY = "same-origin"
X_FRAME_OPTIONS = "DENY"
# How many proxies of one's own stand in front and write X-Forwarded-For; 0 believes no header. See docs/security.md.
PROXIES: int = ENV("STANCEBOOK_PROXIES", 0)
if ENV("STANCEBOOK_BEHIND_PROXY", False):
    SECURE_PROXY_SSL_HEADER = ("HTTP_X_FORWARDED_PROTO", "https")

CONTENT_SECURITY_POLICY = {
    "DIRECTIVES": {
        "default-src": [SELF],
        "script-src": [SELF],
        "style-src": [SELF],
        "img-src": [SELF, "data:", "blob:"],
        "connect-src": [SELF],
        "worker-src": [SELF],
        "manifest-src": [SELF],
        "object-src": ["'none'"],
        "base-uri": ["'none'"],
        "form-action": [SELF],
        "frame-ancestors": ["'none'"],
    }
}

LANGUAGE_CODE = "en-gb"
TIME_ZONE = "UTC"
USE_I18N = True
USE_TZ = True

STATIC_URL = "static/"
STATIC_ROOT: Path = ENV("STANCEBOOK_STATIC", VAR_DIR / "static")
STATIC_ROOT.mkdir(parents=True, exist_ok=True)
MEDIA_ROOT: Path = ENV("STANCEBOOK_MEDIA", VAR_DIR / "media")
STORAGES = {
    "default": {"BACKEND": "django.core.files.storage.FileSystemStorage"},
    "staticfiles": {
        "BACKEND": "django.contrib.staticfiles.storage.StaticFilesStorage"
        if DEBUG
        else "config.static_files.NamedByContent"
    },
}
STATICFILES_FINDERS = [
    "django.contrib.staticfiles.finders.FileSystemFinder",
    "django.contrib.staticfiles.finders.AppDirectoriesFinder",
    "config.static_files.PlotlyFinder",
]
WHITENOISE_MAX_AGE = 3600
WHITENOISE_KEEP_ONLY_HASHED_FILES = True  # no page names the others, and each large file is compressed once
DATA_UPLOAD_MAX_MEMORY_SIZE = 5 * 1024 * 1024
FILE_UPLOAD_MAX_MEMORY_SIZE = 2 * 1024 * 1024
DATA_UPLOAD_MAX_NUMBER_FIELDS = 4000
BODY_MAX_BYTES = 16 * 1024 * 1024  # of anything that is sent, but for imports; a picture has at most 12
IMPORT_MAX_BYTES = 60 * 1024 * 1024
ERASURE_LEDGER: Path = ENV("STANCEBOOK_ERASURES", VAR_DIR / "erasures.jsonl")
# Days after which `manage.py prune` throws something away; the privacy page reads the same table.
RETENTION_DAYS = {
    "looks": 365,
    "changes": 3 * 365,
    "invitations": 30,
    "import files": 30,
    "import lines": 365,
    "ended health notes": 2 * 365,
    "pictures": 3 * 365,
    "sign-in tries": 30,
    "address changes": 30,
    "ended tasks": 14,
    "prepared files": 2,
}
# Days after which a guardian is asked again; a consent older than that covers nothing.
CONSENT_DAYS = 365
OTP_TOTP_ISSUER = "Stancebook"

EMAIL_BACKEND: str = ENV(
    "DJANGO_EMAIL_BACKEND", f"django.core.mail.backends.{'console' if DEBUG else 'smtp'}.EmailBackend"
)
DEFAULT_FROM_EMAIL: str = ENV("DJANGO_FROM_EMAIL", "stancebook@localhost")
EMAIL_TIMEOUT = 10  # seconds; the worker waits no longer for a mail server
EMAIL_HOST: str = ENV("DJANGO_EMAIL_HOST", "localhost")
EMAIL_PORT: int = ENV("DJANGO_EMAIL_PORT", 25)
EMAIL_HOST_USER: str = ENV("DJANGO_EMAIL_USER", "")
EMAIL_HOST_PASSWORD: str = ENV("DJANGO_EMAIL_PASSWORD", "")
EMAIL_USE_TLS: bool = ENV("DJANGO_EMAIL_TLS", False)
# One line of JSON a record on a server, words on one's own machine, where the development server names each request.
LOGGING = {
    "version": 1,
    "disable_existing_loggers": False,
    "formatters": {"lines": {"()": "athletes.operations.request_log.JsonLines"}},
    "handlers": {"console": {"class": "logging.StreamHandler"} | ({} if DEBUG else {"formatter": "lines"})},
    "root": {"handlers": ["console"], "level": "WARNING"},
    "loggers": {
        "stancebook.requests": {"level": "WARNING" if DEBUG else "INFO"},
        # Django's own handlers would write the same again as free text, or mail it.
        "django": {"handlers": [], "propagate": True},
    },
}
