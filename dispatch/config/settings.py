"""One settings file for everywhere; what differs between places comes from the environment."""

import datetime
from pathlib import Path
from typing import Any

from dispatch.config import env, keep
from dispatch.config.database import database

BASE_DIR = Path(__file__).resolve().parent.parent.parent
DATA_DIR = BASE_DIR / env.text("LEEBOARD_DATA", "var")
DATA_DIR.mkdir(parents=True, exist_ok=True, mode=0o700)

DEBUG = env.flag("LEEBOARD_DEBUG", default=False)
SECRET_KEY = env.text("SECRET_KEY", "") or keep.secret(DATA_DIR / "secret")
ALLOWED_HOSTS = env.text("LEEBOARD_HOSTS", "127.0.0.1,localhost,[::1]").split(",")
CSRF_TRUSTED_ORIGINS = [o for o in env.text("LEEBOARD_ORIGINS", "").split(",") if o]
_SAID_URL = env.text("LEEBOARD_URL", "").rstrip("/")
PUBLIC_URL = _SAID_URL or "http://127.0.0.1:8000"
PUBLIC_URL_IS_SAID = bool(_SAID_URL)  # else `serve` puts its own address there

DATABASES = {
    "default": database(
        env.text("DATABASE_URL", f"sqlite:///{DATA_DIR / 'leeboard.sqlite3'}"), BASE_DIR
    )
}
DEFAULT_AUTO_FIELD = "django.db.models.BigAutoField"

REDIS_URL = env.text("REDIS_URL", "")
BROKER_SOCKET = keep.socket_path(DATA_DIR)
CELERY_BROKER_URL = REDIS_URL or f"redis+socket://{BROKER_SOCKET}"
TASK_SECONDS = env.number("LEEBOARD_TASK_SECONDS", 900, least=2, most=7200)
# Called without arguments after each commit that left work for a worker.
AFTER_WORK_IS_LEFT = "dispatch.tasks.nudge.sweep_soon"
WORKER_PROCESSES = env.number("LEEBOARD_WORKERS", 2, least=1, most=64)

INSTALLED_APPS = [
    "django.contrib.auth",
    "django.contrib.contenttypes",
    "django.contrib.sessions",
    "django.contrib.messages",
    "django.contrib.staticfiles",
    "rest_framework",
    "rest_framework.authtoken",
    "drf_spectacular",
    "django_htmx",
    "axes",
    "csp",
    "dispatch.records",
    "dispatch.web",
    "dispatch.api",
    "dispatch.cli",
]

MIDDLEWARE = [
    "django.middleware.security.SecurityMiddleware",
    "csp.middleware.CSPMiddleware",
    "whitenoise.middleware.WhiteNoiseMiddleware",
    "django.contrib.sessions.middleware.SessionMiddleware",
    "django.middleware.common.CommonMiddleware",
    "django.middleware.csrf.CsrfViewMiddleware",
    "django.contrib.auth.middleware.AuthenticationMiddleware",
    "django.contrib.messages.middleware.MessageMiddleware",
    "django.middleware.clickjacking.XFrameOptionsMiddleware",
    "django_htmx.middleware.HtmxMiddleware",
    "axes.middleware.AxesMiddleware",
    "dispatch.web.one_moment.middleware",
]

ROOT_URLCONF = "dispatch.config.urls"
WSGI_APPLICATION = "dispatch.config.wsgi.application"
TEMPLATES: list[dict[str, Any]] = [
    {
        "BACKEND": "django.template.backends.django.DjangoTemplates",
        # Templates lie beside their pages: `owner/board.html` is dispatch/web/owner/board.html.
        "DIRS": [BASE_DIR / "dispatch" / "web"],
        "APP_DIRS": True,
        "OPTIONS": {
            "context_processors": [
                "django.template.context_processors.request",
                "django.contrib.auth.context_processors.auth",
                "django.contrib.messages.context_processors.messages",
            ]
        },
    }
]

STATIC_URL = "/static/"
WHITENOISE_USE_FINDERS = True  # no collecting step between a change and a start

AUTH_USER_MODEL = "records.Account"
AUTHENTICATION_BACKENDS = [
    "axes.backends.AxesStandaloneBackend",
    "django.contrib.auth.backends.ModelBackend",
]
AUTH_PASSWORD_VALIDATORS = [
    {"NAME": f"django.contrib.auth.password_validation.{name}"}
    for name in (
        "UserAttributeSimilarityValidator",
        "MinimumLengthValidator",
        "CommonPasswordValidator",
    )
]
LOGIN_URL = "/sign-in/"
LOGIN_REDIRECT_URL = "/"
LOGOUT_REDIRECT_URL = "/sign-in/"
# Eight wrong passwords for one name from one address rest that pair for a quarter of an hour.
AXES_FAILURE_LIMIT = 8
AXES_COOLOFF_TIME = datetime.timedelta(minutes=15)
AXES_LOCKOUT_PARAMETERS = [["username", "ip_address"]]
AXES_RESET_ON_SUCCESS = True
AXES_LOCKOUT_TEMPLATE = "locked.html"
AXES_VERBOSE = False

BEHIND_HTTPS = env.flag("LEEBOARD_HTTPS", default=False)
SESSION_COOKIE_SECURE = BEHIND_HTTPS
CSRF_COOKIE_SECURE = BEHIND_HTTPS
CSRF_FAILURE_VIEW = "dispatch.web.gate.stale"
SESSION_COOKIE_HTTPONLY = True
SESSION_COOKIE_SAMESITE = "Lax"
SECURE_SSL_REDIRECT = BEHIND_HTTPS
SECURE_HSTS_SECONDS = 86400 if BEHIND_HTTPS else 0
SECURE_PROXY_SSL_HEADER = ("HTTP_X_FORWARDED_PROTO", "https") if BEHIND_HTTPS else None
SECURE_REFERRER_POLICY = "same-origin"
X_FRAME_OPTIONS = "DENY"
CONTENT_SECURITY_POLICY = {
    "DIRECTIVES": {
        "default-src": ["'none'"],
        "script-src": ["'self'"],
        "style-src": ["'self'"],
        "img-src": ["'self'", "data:"],
        "font-src": ["'self'"],
        "connect-src": ["'self'"],
        "manifest-src": ["'self'"],
        "worker-src": ["'self'"],
        "form-action": ["'self'"],
        "base-uri": ["'none'"],
        "frame-ancestors": ["'none'"],
    }
}

REST_FRAMEWORK = {
    "DEFAULT_AUTHENTICATION_CLASSES": [
        "rest_framework.authentication.TokenAuthentication",
        "rest_framework.authentication.SessionAuthentication",
    ],
    "DEFAULT_PERMISSION_CLASSES": ["rest_framework.permissions.IsAuthenticated"],
    "DEFAULT_RENDERER_CLASSES": ["rest_framework.renderers.JSONRenderer"],
    "DEFAULT_PARSER_CLASSES": ["dispatch.api.bodies.SmallJson"],
    "EXCEPTION_HANDLER": "dispatch.api.problems.handle",
    "DEFAULT_SCHEMA_CLASS": "drf_spectacular.openapi.AutoSchema",
}
SPECTACULAR_SETTINGS = {
    "TITLE": "Leeboard",
    "DESCRIPTION": "Weeks of work for a mobile boat-hull crew: read them, build them, post them.",
    "VERSION": "0.1.0",
    "SERVE_INCLUDE_SCHEMA": False,
    "SERVE_PERMISSIONS": ["rest_framework.permissions.IsAuthenticated"],
    "SCHEMA_PATH_PREFIX": "/api/",
    "ENUM_NAME_OVERRIDES": {
        "PlanState": "dispatch.records.models.WeekPlan.State",
        "JobState": "dispatch.records.models.Job.State",
        "StageState": "dispatch.records.models.Stage.State",
    },
    "PATH_CONVERTER_OVERRIDES": {
        "date": {"type": "string", "format": "date"},
        "slug": {"type": "string", "pattern": "^[-a-zA-Z0-9_]+$"},
        "name": {"type": "string", "pattern": "^[-a-z0-9_.]+$"},
    },
}

LANGUAGE_CODE = "en-us"
TIME_ZONE = "UTC"
USE_TZ = True
USE_I18N = True

LOGGING = {
    "version": 1,
    "disable_existing_loggers": False,
    "formatters": {
        "short": {"format": "{asctime} {levelname} {name}: {message}", "style": "{"}
    },
    "handlers": {"out": {"class": "logging.StreamHandler", "formatter": "short"}},
    "root": {
        "handlers": ["out"],
        "level": env.text("LEEBOARD_LOG_LEVEL", "WARNING").upper(),
    },
}
