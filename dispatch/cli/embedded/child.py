"""One child process that is started again when it dies, and ended for good on request."""

import logging
import os
import signal
import subprocess
import sys
import time
from collections.abc import Mapping, Sequence
from pathlib import Path

log = logging.getLogger(__name__)

FIRST_REST_SECONDS = 0.25
LONGEST_REST_SECONDS = 8.0
STEADY_SECONDS = 20.0  # a child that lived so long starts again without a rest
RENEW_SECONDS = 120.0  # how long one asked to begin anew may finish what it does
LEASH = Path(__file__).with_name("leash.py")


class Child:
    """A named command, its process, and how long to rest before the next start."""

    def __init__(
        self,
        name: str,
        command: Sequence[str],
        *,
        folder: Path,
        environ: Mapping[str, str],
    ) -> None:
        self.name = name
        self.command = list(command)
        self.folder = folder
        self.environ = dict(environ)
        self.process: subprocess.Popen[bytes] | None = None
        self.rest_seconds = 0.0
        self.started_at = 0.0
        self.start_due_at = 0.0
        self.renew_by = 0.0

    @property
    def pid(self) -> int | None:
        """Return the process id while the child runs, else None."""
        alive = self.process is not None and self.process.poll() is None
        return self.process.pid if alive and self.process else None

    def start(self) -> None:
        """Start the process in a session of its own, so that Ctrl-C reaches the parent alone."""
        leashed = [sys.executable, str(LEASH), str(os.getpid()), *self.command]
        self.process = subprocess.Popen(  # noqa: S603 - our own commands, whole paths, no shell
            leashed,
            cwd=self.folder,
            env=self.environ,
            stdin=subprocess.DEVNULL,
            stdout=subprocess.DEVNULL,  # what matters they say on standard error
            start_new_session=True,
        )
        self.started_at = time.monotonic()
        self.start_due_at = self.renew_by = 0.0

    def watch(self) -> bool:
        """Start the process again when it has died, sooner the longer it had lived; say whether it was."""
        now = time.monotonic()
        if self.pid is not None:
            if self.renew_by and now >= self.renew_by:
                self._end_group()
            return False
        if not self.start_due_at:
            self._note_death(now)
        if now < self.start_due_at:
            return False
        self.start()
        return True

    def renew(self) -> None:
        """Ask the process to finish what it does and end, so that it is started again."""
        if self.process is not None and self.pid is not None:
            self.renew_by = time.monotonic() + RENEW_SECONDS
            self.process.terminate()

    def _note_death(self, now: float) -> None:
        """Say that the child died and settle when to start it again."""
        steady = now - self.started_at >= STEADY_SECONDS
        longer = min(
            max(self.rest_seconds * 2, FIRST_REST_SECONDS), LONGEST_REST_SECONDS
        )
        self.rest_seconds = FIRST_REST_SECONDS if steady else longer
        self.start_due_at = now + self.rest_seconds
        code = self.process.returncode if self.process else None
        log.warning("The %s ended (%s); starting it again.", self.name, code)

    def end(self, patience_seconds: float) -> None:
        """Ask the process to end, wait so long, then end its whole group."""
        if self.process is None:
            return
        if self.process.poll() is None:
            self.process.terminate()
        try:
            self.process.wait(patience_seconds)
        except subprocess.TimeoutExpired:
            log.warning(
                "The %s did not end in time; its tasks run again later.", self.name
            )
        self._end_group()
        self.process.wait()
        self.process = None

    def _end_group(self) -> None:
        """End what is left of the child's session: its own children, should it have died first."""
        try:
            os.killpg(self.process.pid, signal.SIGKILL) if self.process else None
        except (ProcessLookupError, PermissionError):
            return  # nobody is left
