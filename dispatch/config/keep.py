"""What the service keeps in its data folder: the secret, and where its broker's socket lies."""

import hashlib
import os
import secrets
import tempfile
from pathlib import Path

SOCKET_PATH_MOST = 100  # the system's limit is 107 bytes, the end mark included


def secret(path: Path) -> str:
    """Return the secret kept in the file, made at the first start and readable by its owner only."""
    if not path.exists():
        _write_once(path, secrets.token_urlsafe(64))
    return path.read_text("ascii").strip()


def _write_once(path: Path, words: str) -> None:
    """Write the whole file or leave the one another process wrote first."""
    path.parent.mkdir(parents=True, exist_ok=True, mode=0o700)
    handle, draft = tempfile.mkstemp(dir=path.parent, prefix=".secret-")
    try:
        with os.fdopen(handle, "w", encoding="ascii") as out:
            out.write(words)
        Path(path).hardlink_to(draft)
    except FileExistsError:
        pass
    finally:
        Path(draft).unlink()


def socket_path(data: Path) -> Path:
    """Return the broker's socket for this data folder: inside it, or in a short place of its own."""
    path = data / "broker" / "broker.sock"
    if len(os.fsencode(path)) <= SOCKET_PATH_MOST:
        return path
    mark = hashlib.sha256(os.fsencode(data)).hexdigest()[:12]
    return (
        Path(tempfile.gettempdir()) / f"leeboard-{os.getuid()}-{mark}" / "broker.sock"
    )
