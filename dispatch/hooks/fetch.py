"""Read JSON over HTTP in a plugin: only from https or this machine, in bounded time, not again what is known."""

import ipaddress
import json
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from datetime import UTC, datetime
from email.utils import parsedate_to_datetime
from http import HTTPStatus
from threading import Event
from time import monotonic

import httpx

from dispatch.hooks.manifest import Option
from dispatch.hooks.values import Complaint

# All tries of one call of a hook together; the guard ends a call a good while later.
WHOLE_S = 12.0
MOST_BYTES = 8_000_000
MOST_TRIES = 4
_FIRST_PAUSE_S = 0.5
_LONGEST_STAMP = 300
_LONGEST_TRY_S = 10.0
_LATER = {408, 425, 429, 500, 502, 503, 504}

OPTIONS = (
    Option(
        name="user_agent",
        kind="text",
        default="leeboard",
        says="who asks, with a way to reach you, as many services want it",
    ),
    Option(
        name="timeout_s",
        kind="number",
        default=4.0,
        says=f"seconds one try may take, more than 0 and at most {_LONGEST_TRY_S:g}",
    ),
    Option(
        name="tries",
        kind="number",
        default=3.0,
        says=f"how often to ask before giving up, 1 to {MOST_TRIES}",
    ),
)


class NotThere(Complaint):
    """The service answers, but has nothing at this address (404 or 410)."""


@dataclass(frozen=True, kw_only=True)
class Stamp:
    """What a service said an answer may be recognised by; asked with it, it may say that nothing has changed."""

    etag: str = ""
    modified: str = ""

    def headers(self) -> dict[str, str]:
        """The conditional headers of RFC 9110 section 13.1."""
        named = {"If-None-Match": self.etag, "If-Modified-Since": self.modified}
        return {name: value for name, value in named.items() if value}


@dataclass(frozen=True, kw_only=True)
class Page:
    """An answer: its JSON, or that nothing has ``changed``; with its stamp and the time the service says it is."""

    data: object = None
    changed: bool = True
    stamp: Stamp = field(default_factory=Stamp)
    date: str = ""


class Service:
    """A service during one call of a hook, asked as the options in ``OPTIONS`` say."""

    def __init__(self, options: Mapping[str, object]) -> None:
        self._agent = str(options["user_agent"])
        self._timeout_s = float(str(options["timeout_s"]))
        self._tries = int(float(str(options["tries"])))
        self._until = monotonic() + WHOLE_S

    def get(self, url: str, stamp: Stamp | None = None) -> Page:
        """Read an address; with a stamp only what has changed since.

        Tries again, after a growing pause, where the service is away or overloaded. Follows nothing.

        Raises:
            NotThere: nothing is at that address.
            Complaint: the address may not be asked, or no usable answer came within `WHOLE_S`.
        """
        where = checked(url)
        for pause_s in self._pauses():
            try:
                return self._try(url, where, stamp or Stamp())
            except _Later as later:
                if not pause_s or not self._wait(max(pause_s, later.seconds)):
                    raise Complaint(f"{where} {later}.") from later
        raise AssertionError("there is always a last try")

    def _pauses(self) -> Iterator[float]:
        """Seconds to wait after each try; after the last there is none."""
        for tried in range(1, self._tries):
            yield _FIRST_PAUSE_S * 2 ** (tried - 1)
        yield 0.0

    def _wait(self, seconds: float) -> bool:
        """Wait, in the plugin's own time; false where that would take longer than there is."""
        if monotonic() + seconds >= self._until:
            return False
        Event().wait(seconds)
        return True

    def _try(self, url: str, where: str, stamp: Stamp) -> Page:
        left_s = self._until - monotonic()
        limit_s = max(0.1, min(self._timeout_s, left_s))
        headers = {"User-Agent": self._agent, "Accept": "application/json, */*;q=0.5"}
        try:
            with (
                # No proxy stands between this machine and itself.
                httpx.Client(timeout=limit_s, trust_env=url[:6] == "https:") as client,
                client.stream("GET", url, headers=headers | stamp.headers()) as answer,
            ):
                return _page(answer, where, stamp, monotonic() + limit_s)
        except httpx.TimeoutException as error:
            raise _Later(f"did not answer within {limit_s:.1f} s") from error
        except httpx.HTTPError as error:
            what = str(error) or type(error).__name__
            raise _Later(f"cannot be reached ({what})") from error


def wrong(options: Mapping[str, object]) -> str:
    """What is wrong with ``address`` or with one of ``OPTIONS``, as a manifest's check tells it; or nothing."""
    timeout_s, tries = (float(str(options[name])) for name in ("timeout_s", "tries"))
    if not 0 < timeout_s <= _LONGEST_TRY_S:
        return f"option timeout_s is {timeout_s:g}; more than 0 and at most {_LONGEST_TRY_S:g} is wanted."
    if tries not in range(1, MOST_TRIES + 1):
        return f"option tries is {tries:g}; a whole number from 1 to {MOST_TRIES} is wanted."
    if not _plain(str(options["user_agent"])):
        return "option user_agent has characters that cannot be sent; write it in plain English letters."
    try:
        checked(str(options["address"]))
    except Complaint as complaint:
        return f"option address: {complaint}"
    return ""


class _Later(Exception):  # noqa: N818 - not an end: it may be tried again
    """Worth another try, after at least so many seconds."""

    def __init__(self, said: str, seconds: float = 0.0) -> None:
        super().__init__(said)
        self.seconds = seconds


def checked(url: str) -> str:
    """The address as a fault names it, without what it asks.

    Raises:
        Complaint: it is neither https nor of this machine, or carries a password.
    """
    try:
        parts = httpx.URL(url)
    except httpx.InvalidURL as error:
        raise Complaint(f"{url[:80]!r} is no address ({error}).") from error
    where = f"{parts.scheme}://{parts.netloc.decode()}{parts.path}"
    if parts.userinfo:
        raise Complaint("the address carries a name or password; leave it out.")
    if not parts.host or not (
        parts.scheme == "https" or (parts.scheme == "http" and _here(parts.host))
    ):
        raise Complaint(
            f"{where!r} may not be asked: https is wanted, or http on this machine itself."
        )
    return where


def _here(host: str) -> bool:
    try:
        return ipaddress.ip_address(host).is_loopback
    except ValueError:
        return host == "localhost"


def _page(answer: httpx.Response, where: str, stamp: Stamp, until: float) -> Page:
    """What came back, once its status is one of a forecast."""
    date = answer.headers.get("Date", "")
    if answer.status_code == HTTPStatus.NOT_MODIFIED and stamp.headers():
        return Page(changed=False, stamp=stamp, date=date)
    _refuse(answer, where)
    kept = Stamp(
        etag=_sendable(answer.headers.get("ETag", "")),
        modified=_sendable(answer.headers.get("Last-Modified", "")),
    )
    return Page(data=_json(_body(answer, where, until), where), stamp=kept, date=date)


def _sendable(value: str) -> str:
    """A header's value that may be sent back; nothing where it is over-long or of odd characters."""
    return value if _plain(value) and len(value) <= _LONGEST_STAMP else ""


def _plain(text: str) -> bool:
    return text.isascii() and text.isprintable()


def _refuse(answer: httpx.Response, where: str) -> None:
    """Raise what an answer that is no page comes to."""
    status = answer.status_code
    if status == HTTPStatus.OK:
        return
    said = f"answered {status} {answer.reason_phrase}".strip()
    if status in _LATER:
        seconds = answer.headers.get("Retry-After", "")
        raise _Later(said, float(seconds) if seconds.isdecimal() else 0.0)
    if answer.has_redirect_location:
        raise Complaint(
            f"{where} {said}: it points elsewhere and is not followed. Correct the option address."
        )
    if status in (HTTPStatus.NOT_FOUND, HTTPStatus.GONE):
        raise NotThere(f"{where} {said}.")
    raise Complaint(f"{where} {said}.")


def _body(answer: httpx.Response, where: str, until: float) -> bytes:
    """The whole of a body; one that comes too slowly or is too long is cut off."""
    body = bytearray()
    for piece in answer.iter_bytes():
        body += piece
        if len(body) > MOST_BYTES:
            raise Complaint(f"{where} answered more than {MOST_BYTES // 10**6} MB.")
        if monotonic() > until:
            raise _Later("answered too slowly, and not to the end")
    return bytes(body)


def _json(body: bytes, where: str) -> object:
    def no_number(name: str) -> None:
        raise ValueError(f"{name} is no number")

    try:
        data: object = json.loads(body, parse_constant=no_number)
    except (ValueError, RecursionError) as error:
        raise Complaint(f"{where} answered what is not JSON ({error}).") from error
    return data


def moment(text: str) -> datetime | None:
    """The moment of an HTTP date header; None where there is none or it cannot be read."""
    try:
        at = parsedate_to_datetime(text)
    except ValueError:
        return None
    return at if at.tzinfo else at.replace(tzinfo=UTC)
