"""Messages by e-mail."""

import ipaddress
from collections.abc import Mapping

from dispatch.hooks.manifest import Manifest, Option
from plugins.notify_email import address

_HIGHEST_PORT = 65535
# A call of the hook is ended after a minute, by then not known to be unsent: a server that is slow at
# each of its first answers is to be given up before.
_LONGEST_WAIT_S = 15
_NO_ADDRESS = "option sender is no e-mail address, as crew@example.org."


def _check(given: Mapping[str, object]) -> str:
    """What is wrong with options that are each of their kind."""
    if not _port(float(str(given["port"]))):
        return f"option port is {given['port']:g}; a whole number from 1 to {_HIGHEST_PORT} is wanted."
    if given["security"] == "plain" and not _here(str(given["host"])):
        return "without TLS anyone on the way can read the mail: choose starttls or implicit. Plain is for this machine alone."
    if bool(given["user"]) != bool(given["password"]):
        return "give both user and password, or neither."
    if not 0 < float(str(given["wait_seconds"])) <= _LONGEST_WAIT_S:
        return f"option wait_seconds must be more than 0 and at most {_LONGEST_WAIT_S}."
    return "" if address.plain(str(given["sender"])) else _NO_ADDRESS


def _port(number: float) -> bool:
    return number.is_integer() and 1 <= number <= _HIGHEST_PORT


def _here(host: str) -> bool:
    """Whether a host is this machine itself."""
    try:
        return ipaddress.ip_address(host).is_loopback
    except ValueError:
        return host == "localhost"


MANIFEST = Manifest(
    name="notify_email",
    version="1.0",
    socket=1,
    summary="Sends messages by e-mail, with the visit for a calendar.",
    hooks=("send",),
    channels=("email",),
    options=(
        Option(name="host", kind="text", says="the mail server's name"),
        Option(
            name="port",
            kind="number",
            says="its port, usually 587 for starttls and 465 for implicit",
            default=587.0,
        ),
        Option(
            name="security",
            kind="text",
            says="how the line is encrypted",
            default="starttls",
            choices=("starttls", "implicit", "plain"),
        ),
        Option(
            name="user",
            kind="text",
            says="the name to sign in with; empty where the server asks for none",
            default="",
        ),
        Option(name="password", kind="secret", says="its password", default=""),
        Option(name="sender", kind="text", says="the address mail comes from"),
        Option(
            name="sender_name",
            kind="text",
            says="the name shown beside that address",
            default="",
        ),
        Option(
            name="trust_file",
            kind="text",
            says="a file of certificates to trust beside the system's own (PEM)",
            default="",
        ),
        Option(
            name="wait_seconds",
            kind="number",
            says="how long to wait for each answer of the server",
            default=10.0,
        ),
    ),
    check=_check,
)
