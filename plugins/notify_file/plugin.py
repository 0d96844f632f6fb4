"""Append messages to a file as JSON lines; the same key is never written twice."""

import fcntl
import json
import os
from collections.abc import Mapping
from dataclasses import asdict
from datetime import datetime
from pathlib import Path
from typing import BinaryIO

from dispatch.hooks.specs import hookimpl
from dispatch.hooks.values import Complaint, Message, Receipt


class NotifyFile:
    """The send hook into one file, one writer at a time."""

    def __init__(self, path: Path) -> None:
        self._path = path

    @hookimpl
    def send(self, message: Message) -> Receipt:
        """Write the message, unless its key stands in the file already."""
        try:
            self._path.parent.mkdir(parents=True, exist_ok=True)
            with self._path.open("a+b") as file:
                fcntl.flock(file, fcntl.LOCK_EX)
                return _write_once(file, message)
        except OSError as error:
            raise Complaint(
                f"{self._path} cannot be written ({error.strerror})."
            ) from error


def make(options: Mapping[str, object]) -> NotifyFile:
    """The plugin's object with its options."""
    return NotifyFile(Path(str(options["file"])))


def _write_once(file: BinaryIO, message: Message) -> Receipt:
    """Append under the caller's lock; what a writer that died left of a line is cut off first."""
    file.seek(0)
    whole = file.read()
    kept, end, _ = whole.rpartition(b"\n")
    if any(_key(line) == message.key for line in kept.splitlines()):
        return Receipt(status="accepted", said="written before")
    file.truncate(len(kept) + len(end))
    # Moments are written as ISO 8601.
    line = json.dumps(asdict(message), ensure_ascii=False, default=datetime.isoformat)
    file.write(line.encode() + b"\n")
    file.flush()
    os.fsync(file.fileno())
    return Receipt(status="accepted", said="written")


def _key(line: bytes) -> object:
    """The key of a line, or None where somebody else wrote it."""
    try:
        said = json.loads(line)
    except ValueError:
        return None
    return said.get("key") if isinstance(said, dict) else None
