"""The request that hands over one message: an address, headers and a body with fields to fill in."""

import base64
import ipaddress
import json
import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from string import Template
from urllib.parse import quote, quote_plus, urlsplit
from xml.sax.saxutils import escape

FIELDS = ("to", "text", "sender", "key", "segments", "secret", "basic")
_LONGEST_WAIT_S = 30
_HEADER = re.compile(r"[A-Za-z0-9!#$%&'*+.^_`|~-]+")
_TRIED = dict.fromkeys(FIELDS, 'a "word" & <more>;\n\\ 東')


@dataclass(frozen=True, kw_only=True)
class Request:
    """What is sent to the gateway."""

    method: str
    url: str
    headers: Mapping[str, str]
    body: bytes


def filled(options: Mapping[str, object], fields: Mapping[str, str]) -> Request:
    """The request with its fields filled in, each escaped for where it stands."""
    headers = _headers(options, fields)
    body = _put(str(options["body"]), fields, _escape(headers))
    method = str(options["method"])
    return Request(
        method=method,
        url=_put(str(options["url"]).strip(), fields, lambda value: quote(value, "")),
        headers=headers,
        body=b"" if method == "GET" else body.encode(),
    )


def signed(options: Mapping[str, object]) -> dict[str, str]:
    """The fields by which the gateway knows us; ``basic`` is the pair of RFC 7617."""
    user, secret = str(options["user"]), str(options["secret"])
    pair = base64.b64encode(f"{user}:{secret}".encode()).decode("ascii")
    return {"sender": str(options["sender"]), "secret": secret, "basic": pair}


def statuses(text: str) -> frozenset[int]:
    """The statuses that a text as ``200-299`` or ``200 202`` names.

    Raises:
        ValueError: it is none.
    """
    named: set[int] = set()
    for part in text.replace(",", " ").split():
        first, _, last = part.partition("-")
        named.update(range(int(first), int(last or first) + 1))
    if not named or not named <= set(range(100, 600)):
        raise ValueError(text)
    return frozenset(named)


def wrong(options: Mapping[str, object]) -> str:
    """What is wrong with options that are each of their kind, or nothing."""
    return (
        _wrong_fields(options)
        or _wrong_address(str(options["url"]).strip())
        or _wrong_headers(options)
        or _wrong_answer(options)
        or _wrong_body(options)
        or _wrong_number(options)
    )


def _wrong_number(options: Mapping[str, object]) -> str:
    if not 0 < float(str(options["wait_seconds"])) <= _LONGEST_WAIT_S:
        return f"option wait_seconds must be more than 0 and at most {_LONGEST_WAIT_S}."
    most = float(str(options["most_segments"]))
    return "" if most >= 1 else "option most_segments must be 1 or more."


def _wrong_fields(options: Mapping[str, object]) -> str:
    for name in ("url", "headers", "body"):
        try:
            Template(str(options[name])).substitute(dict.fromkeys(FIELDS, ""))
        except (KeyError, ValueError):
            return f"option {name} has a field nobody fills in; use ${' $'.join(FIELDS)}, and $$ for a dollar."
    return ""


def _wrong_address(url: str) -> str:
    try:
        parts, host = urlsplit(url), urlsplit(url).hostname or ""
    except ValueError:
        return "option url is no address."
    if parts.scheme not in ("https", "http") or not host or "$" in parts.netloc:
        return "option url is no address, as https://gateway.example.org/messages."
    if parts.scheme == "http" and not _here(host):
        return "without https anyone on the way can read the secret: begin the url with https."
    return ""


def _here(host: str) -> bool:
    """Whether a host is this machine itself."""
    try:
        return ipaddress.ip_address(host).is_loopback
    except ValueError:
        return host == "localhost"


def _wrong_headers(options: Mapping[str, object]) -> str:
    for line in str(options["headers"]).splitlines():
        name, colon, value = line.partition(":")
        if line.strip() and not (colon and _HEADER.fullmatch(name.strip())):
            return f"option headers: {line.strip()[:60]!r} is not as Name: value."
        if not value.isascii():
            return f"option headers: {name.strip()} may hold plain letters alone."
    secrets = f"{options['user']}{options['secret']}{options['sender']}"
    return "" if secrets.isprintable() else "user, secret and sender are one line each."


def _wrong_answer(options: Mapping[str, object]) -> str:
    try:
        statuses(str(options["taken"]))
    except ValueError:
        return "option taken names no statuses, as 200-299 or 200 202."
    pointer = str(options["id_at"])
    if pointer and not pointer.startswith("/"):
        return "option id_at must begin with a slash, as /messages/0/id."
    return ""


def _wrong_body(options: Mapping[str, object]) -> str:
    if not {"$to", "$text"} <= _sent_fields(options):
        return _NO_TEXT
    request = filled(options, _TRIED | {"secret": "", "basic": "", "sender": ""})
    if request.body and _escape(request.headers) is _json:
        try:
            json.loads(request.body)
        except ValueError as error:
            return f"option body is no JSON once it is filled in ({error})."
    return ""


_NO_TEXT = "the fields $to and $text are nowhere sent; put them into body, or into url where the method is GET."


def _sent_fields(options: Mapping[str, object]) -> set[str]:
    """The fields that are sent anywhere; a GET sends no body."""
    parts = ["url", "headers"] + ([] if options["method"] == "GET" else ["body"])
    whole = "\n".join(str(options[name]).replace("$$", "") for name in parts)
    return {f"${name}" for name in re.findall(r"\$\{?(\w+)", whole)}


def _headers(
    options: Mapping[str, object], fields: Mapping[str, str]
) -> dict[str, str]:
    lines = [line for line in str(options["headers"]).splitlines() if line.strip()]
    pairs = (line.partition(":") for line in lines)
    return {
        # A field that is empty must not leave a space at the end, which no header has.
        name.strip(): _put(value, fields, _one_line).strip()
        for name, _, value in pairs
    }


def _put(
    template: str, fields: Mapping[str, str], written: Callable[[str], str]
) -> str:
    return Template(template).substitute({n: written(v) for n, v in fields.items()})


def _escape(headers: Mapping[str, str]) -> Callable[[str], str]:
    """How a field is written in a body of its Content-Type; a type we do not know takes it as it is."""
    kinds = [v for name, v in headers.items() if name.lower() == "content-type"]
    kind = kinds[0].partition(";")[0].strip().lower() if kinds else ""
    if kind.endswith("json"):
        return _json
    if kind.endswith("xml"):
        return _xml
    return quote_plus if kind == "application/x-www-form-urlencoded" else str


def _json(value: str) -> str:
    """RFC 8259, without the quotes: they stand in the template."""
    return json.dumps(value)[1:-1]


def _xml(value: str) -> str:
    return escape(value, {'"': "&quot;", "'": "&apos;"})


def _one_line(value: str) -> str:
    """A value that cannot begin another header, in the letters a header takes."""
    plain = "".join(letter if " " <= letter <= "~" else "?" for letter in value)
    return plain.strip()
