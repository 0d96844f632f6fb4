"""Run a command that ends when its starter ends, however that happens.

`python -m dispatch.cli.embedded.leash STARTER_PID COMMAND...` replaces itself by the command.
"""

import ctypes
import os
import signal
import sys

PR_SET_PDEATHSIG = 1


def main(starter: int, command: list[str]) -> None:
    """Ask the system to end this process with its starter (Linux), then become the command."""
    if sys.platform == "linux":
        ctypes.CDLL(None).prctl(PR_SET_PDEATHSIG, signal.SIGTERM)
        if os.getppid() != starter:  # the starter ended before the leash was on
            sys.exit(0)
    os.execv(command[0], command)  # noqa: S606 - the starter gives a whole path; no shell is wanted


if __name__ == "__main__":
    main(int(sys.argv[1]), sys.argv[2:])
