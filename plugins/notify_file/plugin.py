"""Append messages to a file as JSON lines; the same key is never written twice."""

import fcntl
import json
import os
from collections.abc import Mapping
from dataclasses import asdict
from pathlib import Path

from dispatch.hooks.specs import hookimpl
from dispatch.hooks.values import Message, Receipt


class NotifyFile:
    """The send hook into one file, one writer at a time."""

    def __init__(self, path: Path) -> None:
        self._path = path

    @hookimpl
    def send(self, message: Message) -> Receipt:
        """Write the message, unless its key stands in the file already."""
        self._path.parent.mkdir(parents=True, exist_ok=True)
        with self._path.open("a+", encoding="utf-8") as file:
            fcntl.flock(file, fcntl.LOCK_EX)
            file.seek(0)
            if any(
                json.loads(line)["key"] == message.key for line in file if line.strip()
            ):
                return Receipt(status="accepted", said="written before")
            file.write(json.dumps(asdict(message), ensure_ascii=False) + "\n")
            file.flush()
            os.fsync(file.fileno())
        return Receipt(status="accepted", said="written")


def make(options: Mapping[str, object]) -> NotifyFile:
    """The plugin's object with its options."""
    return NotifyFile(Path(str(options["file"])))
