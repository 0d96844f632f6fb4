"""Tasks that only tests hand to the worker: they leave a mark in a file."""

import threading
from pathlib import Path

from celery import shared_task


@shared_task(name="probe.mark")
def mark(path: str, word: str) -> None:
    with Path(path).open("a") as out:
        out.write(word + "\n")


@shared_task(name="probe.slow")
def slow(path: str, seconds: float) -> None:
    mark(path, "begun")
    threading.Event().wait(seconds)
    mark(path, "done")
