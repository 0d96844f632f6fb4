"""Signed posts: HMAC-SHA256 (RFC 2104, FIPS 180-4) over the moment, a dot and the body, with a secret both ends know."""

import hashlib
import hmac
from datetime import UTC, datetime, timedelta

# A post that is older, or from a clock that is more ahead, is not taken.
WINDOW = timedelta(minutes=5)


def sign(secret: str, timestamp: str, body: bytes) -> str:
    """The signature, in small hexadecimal letters; ``timestamp`` is in whole seconds since 1970 (Unix)."""
    signed = timestamp.encode() + b"." + body
    return hmac.new(secret.encode(), signed, hashlib.sha256).hexdigest()


def right(secret: str, timestamp: str, signature: str, body: bytes) -> bool:
    """Whether a signature is that of the secret; compared in the same time whatever it is, never without a secret."""
    given = signature.removeprefix("sha256=").encode()
    wanted = sign(secret, timestamp, body).encode()
    return bool(secret) and hmac.compare_digest(given, wanted)


def fresh(timestamp: str, now: datetime) -> bool:
    """Whether a post was signed just now."""
    if not (timestamp.isascii() and timestamp.isdecimal() and len(timestamp) <= 11):
        return False
    return abs(datetime.fromtimestamp(int(timestamp), UTC) - now) <= WINDOW
