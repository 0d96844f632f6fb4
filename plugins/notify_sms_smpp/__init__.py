"""Text messages over SMPP 3.4."""

import ipaddress
from collections.abc import Mapping

from dispatch.hooks.manifest import Manifest, Option

_LONGEST: Mapping[str, int] = {"system_id": 15, "password": 8, "system_type": 12}
_IN_CLEAR = "option security: plain is for this machine, or a tunnel on it; anyone on the way can read the password."


def _wrong(options: Mapping[str, object]) -> str:
    """What is wrong with options that are each of their kind, or nothing."""
    checks = (
        (_within(options, "port", 1, 65535), "option port must be from 1 to 65535."),
        (
            _within(options, "wait_seconds", 0.1, 40),
            "option wait_seconds must be from 0.1 to 40.",
        ),
        (
            _within(options, "most_segments", 1, 255),
            "option most_segments must be from 1 to 255.",
        ),
        (options["security"] == "tls" or _here(str(options["host"])), _IN_CLEAR),
        *(
            (
                _short(str(options[name]), most),
                f"option {name} may have at most {most} plain letters.",
            )
            for name, most in _LONGEST.items()
        ),
    )
    return next((said for right, said in checks if not right), "")


def _within(
    options: Mapping[str, object], name: str, least: float, most: float
) -> bool:
    return least <= float(str(options[name])) <= most


def _short(value: str, most: int) -> bool:
    return len(value) <= most and value.isascii() and value.isprintable()


def _here(host: str) -> bool:
    try:
        return ipaddress.ip_address(host).is_loopback
    except ValueError:
        return host == "localhost"


MANIFEST = Manifest(
    name="notify_sms_smpp",
    version="1.0",
    socket=1,
    summary="Sends text messages through a message centre that speaks SMPP 3.4.",
    hooks=("send",),
    channels=("text",),
    options=(
        Option(name="host", kind="text", says="the message centre's host"),
        Option(name="port", kind="number", says="its port", default=3550.0),
        Option(
            name="security",
            kind="text",
            says="tls, or plain for a centre or a tunnel on this machine",
            default="tls",
            choices=("tls", "plain"),
        ),
        Option(name="system_id", kind="text", says="the name of your account"),
        Option(
            name="password",
            kind="secret",
            says="its password, at most 8 letters",
            default="",
        ),
        Option(
            name="system_type",
            kind="text",
            says="the kind of system, where yours wants one",
            default="",
        ),
        Option(
            name="sender",
            kind="text",
            says="whom the message is from: a number with +, a short number, or a name of up to 11 letters",
            default="",
        ),
        Option(
            name="alphabet",
            kind="text",
            says="what the centre takes data coding 0 for: gsm is the alphabet of telephones, else Latin-1 is sent and named",
            default="gsm",
            choices=("gsm", "latin-1"),
        ),
        Option(
            name="most_segments",
            kind="number",
            says="the longest text that is sent, in segments",
            default=6.0,
        ),
        Option(
            name="wait_seconds",
            kind="number",
            says="how long the whole may take, at most 40",
            default=20.0,
        ),
    ),
    check=_wrong,
)
