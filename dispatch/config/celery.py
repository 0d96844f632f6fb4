"""The task app: what it may do with a task, and the timetable."""

import os
import pkgutil
from typing import TYPE_CHECKING

from celery import Celery
from django.conf import settings

import dispatch.tasks

if TYPE_CHECKING:
    from celery.app.utils import Settings

os.environ.setdefault("DJANGO_SETTINGS_MODULE", "dispatch.config.settings")

# A beat's message that no worker took before the next few are due is of no use.
TIMETABLE = {
    **{
        f"sweep {lane}": {
            "task": f"dispatch.tasks.sweep.{lane}",
            "schedule": 3.0,
            "options": {"expires": 15},
        }
        for lane in ("search", "weather", "rest")
    },
    "forecasts": {
        "task": "dispatch.tasks.forecasts.ask",
        "schedule": 3600.0,
        "options": {"expires": 1800},
    },
    "old forecasts": {
        "task": "dispatch.tasks.forecasts.look_at_age",
        "schedule": 300.0,
        "options": {"expires": 290},
    },
    "recoats": {
        "task": "dispatch.tasks.recoats.check",
        "schedule": 60.0,
        "options": {"expires": 55},
    },
    "mends": {
        "task": "dispatch.tasks.mends.look",
        "schedule": 60.0,
        "options": {"expires": 55},
    },
    "drives": {
        "task": "dispatch.tasks.drives.ask",
        "schedule": 3600.0,
        "options": {"expires": 1800},
    },
    "prices": {
        "task": "dispatch.tasks.prices.ask",
        "schedule": 3600.0,
        "options": {"expires": 1800},
    },
    "recurring": {
        "task": "dispatch.tasks.recurring.check",
        "schedule": 3600.0,
        "options": {"expires": 1800},
    },
    "forgetting": {
        "task": "dispatch.tasks.forgetting.old",
        "schedule": 3600.0,
        "options": {"expires": 1800},
    },
    "notices": {
        "task": "dispatch.tasks.notices.drain",
        "schedule": 5.0,
        "options": {"expires": 15},
    },
}

# A worker serves every queue unless it is told some of them; what is not named here goes to the first.
QUEUES = ("celery", "search", "weather", "notices")
ROUTES = {
    "dispatch.tasks.sweep.search": {"queue": "search"},
    "dispatch.tasks.sweep.weather": {"queue": "weather"},
    "dispatch.tasks.forecasts.*": {"queue": "weather"},
    "dispatch.tasks.drives.*": {"queue": "weather"},
    "dispatch.tasks.prices.*": {"queue": "weather"},
    "dispatch.tasks.notices.*": {"queue": "notices"},
}


def task_modules() -> list[str]:
    """Return the name of every module in the tasks room."""
    found = pkgutil.iter_modules(dispatch.tasks.__path__)
    return sorted(f"dispatch.tasks.{module.name}" for module in found)


app = Celery("leeboard", set_as_current=True)


@app.on_configure.connect  # late, so that importing this module reads no settings
def configure(sender: Celery, **_: object) -> None:
    """Fill in the rules: JSON only, late acknowledgement, no result store, prompt recovery."""
    conf: Settings = sender.conf
    conf.update(rules(settings.CELERY_BROKER_URL, settings.TASK_SECONDS))


def rules(broker_url: str, task_seconds: int) -> dict[str, object]:
    """Return Celery's settings; a task that outlives its worker is handed out again."""
    return {
        "broker_url": broker_url,
        "broker_connection_retry_on_startup": True,
        "broker_transport_options": {
            # Longer than the longest task, or it would be handed out while still running.
            "visibility_timeout": task_seconds + task_seconds // 10 + 2,
            "unacked_restore_interval": 5,
            "unacked_restore_throttle": 1,
            "socket_connect_timeout": 3,
        },
        "imports": task_modules(),
        "task_queues": {name: {} for name in QUEUES},
        "task_routes": ROUTES,
        "accept_content": ["json"],
        "task_serializer": "json",
        "task_ignore_result": True,
        "result_backend": None,
        "task_acks_late": True,
        "task_reject_on_worker_lost": True,
        "task_time_limit": task_seconds,
        # A page that nudges a task must not hang on a broker that is away.
        "task_publish_retry_policy": {"max_retries": 1, "interval_start": 0.1},
        "worker_prefetch_multiplier": 1,
        "worker_hijack_root_logger": False,
        "worker_redirect_stdouts": False,
        "worker_enable_remote_control": False,
        "worker_send_task_events": False,
        "enable_utc": True,
        "timezone": "UTC",
        "beat_schedule": TIMETABLE,
    }
