"""A house that runs: laid once, copied for each walk, served by its own command with broker, clock, worker and planner."""

import fcntl
import json
import os
import shutil
import signal
import socket
import subprocess
import sys
import threading
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path

ROOT = Path(__file__).resolve().parents[3]
LAY_S, OPEN_S, CLOSE_S = 400, 240, 30
# Another's database or broker is never walked through.
FOREIGN = ("DATABASE_URL", "REDIS_URL", "LEEBOARD_URL", "LEEBOARD_HOSTS")


@dataclass(frozen=True, kw_only=True)
class House:
    """A served house: its address, its data and the demo's passwords by name (none in an empty one)."""

    url: str
    data: Path
    passwords: Mapping[str, str]


def lay(data: Path) -> Path:
    """Build and post the demo's week in a folder, unless it was laid there before; return the folder.

    Who walks beside another waits while that one lays it.
    """
    data.mkdir(parents=True, exist_ok=True)
    with (data.parent / f"{data.name}.lock").open("w") as lock:
        fcntl.flock(lock, fcntl.LOCK_EX)
        if not (data / "demo-sign-ins.json").exists():
            subprocess.run(
                [sys.executable, "manage.py", "demo"],
                cwd=ROOT,
                env=around(data),
                check=True,
                timeout=LAY_S,
                stdout=subprocess.DEVNULL,
            )
    return data


def around(data: Path) -> dict[str, str]:
    """Return what surrounds a house's processes: this one's, with the house's own data."""
    kept = {name: value for name, value in os.environ.items() if name not in FOREIGN}
    return kept | {"LEEBOARD_DATA": str(data)}


@contextmanager
def served(data: Path, laid: Path | None = None) -> Iterator[House]:
    """Serve a folder, filled with a copy of what was laid elsewhere if that is given, for a block."""
    if laid is not None:
        shutil.copytree(laid, data, ignore=shutil.ignore_patterns("broker"))
    data.mkdir(parents=True, exist_ok=True)
    port, log = free_port(), data / "served.txt"
    words = [sys.executable, "manage.py", "serve", "--port", str(port)]
    with log.open("w") as out:
        process = subprocess.Popen(
            words, cwd=ROOT, env=around(data), stdout=out, stderr=out
        )
    try:
        wait_until_open(process, log)
        yield House(
            url=f"http://127.0.0.1:{port}", data=data, passwords=passwords(data)
        )
    finally:
        close(process)


def free_port() -> int:
    """Return a port that nothing listens at."""
    with socket.create_server(("127.0.0.1", 0)) as door:
        return int(door.getsockname()[1])


def wait_until_open(process: subprocess.Popen[bytes], log: Path) -> None:
    """Wait until the house says where it is; one that ends or is late fails with what it said."""
    tick = threading.Event()
    for _ in range(OPEN_S * 10):
        if "Leeboard is at" in log.read_text():
            return
        if process.poll() is not None:
            break
        tick.wait(0.1)
    raise AssertionError(f"The house did not open: {log.read_text()[-2000:]}")


def close(process: subprocess.Popen[bytes]) -> None:
    """End the service in order; one that does not end in time is killed."""
    process.send_signal(signal.SIGTERM)
    try:
        process.wait(CLOSE_S)
    except subprocess.TimeoutExpired:
        process.kill()
        process.wait()


def passwords(data: Path) -> Mapping[str, str]:
    """Return the demo's passwords by name; none in a house without the demo."""
    kept = data / "demo-sign-ins.json"
    found: dict[str, str] = json.loads(kept.read_text()) if kept.exists() else {}
    return found
