"""The demo's sign-ins: kept beside its data, for their owner's eyes, so that every run can print them."""

import json
from collections.abc import Iterator, Mapping
from pathlib import Path

from django.conf import settings

from dispatch.actions import show_boat
from dispatch.records.models import Account, Job, WeekPlan

_NAME = "demo-sign-ins.json"


def keep(passwords: Mapping[str, str]) -> None:
    """Write the passwords, by account name, to a file that only its owner may read."""
    file = _file()
    file.unlink(missing_ok=True)
    file.touch(mode=0o600)
    file.write_text(json.dumps(passwords))


def lines() -> Iterator[str]:
    """Who may sign in and with what, owners first; then the link to the page of a boat of the week."""
    passwords = _kept()
    yield f"Sign in at {settings.PUBLIC_URL} as"
    for account in Account.objects.filter(is_active=True).order_by("-role", "username"):
        word = passwords.get(account.username, "(run the demo with --fresh for one)")
        sees = "the week" if account.role == Account.Role.OWNER else "the day's route"
        person = account.person.name if account.person else account.username
        yield f"  {account.username} / {word}  {person}, who sees {sees}"
    yield from _boat_lines()


def _boat_lines() -> Iterator[str]:
    standing = WeekPlan.objects.filter(state=WeekPlan.State.STANDING)
    jobs = Job.objects.filter(stages__visit__van_day__plan__in=standing)
    job = jobs.select_related("boat").order_by("stages__visit__start").first()
    if job is not None:
        yield f"What the customer sees of {job.boat.name}, without signing in:"
        yield f"  {show_boat.link(job)}"


def _file() -> Path:
    return Path(settings.DATA_DIR) / _NAME


def _kept() -> Mapping[str, str]:
    """The passwords kept; none where the file is gone."""
    try:
        found: dict[str, str] = json.loads(_file().read_text())
    except (OSError, ValueError):
        return {}
    return found
