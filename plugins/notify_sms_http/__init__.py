"""Text messages through an HTTP gateway."""

from collections.abc import Mapping

from dispatch.hooks.manifest import Manifest, Option
from plugins.notify_sms_http import hearing, request


def _wrong(options: Mapping[str, object]) -> str:
    """What is wrong with options that are each of their kind, or nothing."""
    return hearing.wrong(options) or request.wrong(options)


MANIFEST = Manifest(
    name="notify_sms_http",
    version="1.0",
    socket=1,
    summary="Sends text messages through any gateway that takes an HTTP request.",
    hooks=("hear", "send"),
    channels=("text",),
    options=(
        Option(name="url", kind="text", says="the address that takes a message"),
        Option(
            name="method",
            kind="text",
            says="how it is asked",
            default="POST",
            choices=("POST", "PUT", "GET"),
        ),
        Option(
            name="headers",
            kind="lines",
            says="one a line, as Name: value; Content-Type decides how the fields of the body are written",
            default="Content-Type: application/json\nAuthorization: Bearer $secret",
        ),
        Option(
            name="body",
            kind="lines",
            says="what is sent, with the fields $to $text $sender $key $segments $secret",
            default='{"to": "$to", "from": "$sender", "text": "$text"}',
        ),
        Option(
            name="sender",
            kind="text",
            says="what goes into $sender: your number or name at the gateway",
            default="",
        ),
        Option(
            name="user",
            kind="text",
            says="the name that $basic joins with the secret",
            default="",
        ),
        Option(name="secret", kind="secret", says="the key or password", default=""),
        Option(
            name="taken",
            kind="text",
            says="the answers that mean taken, as 200-299 or 200 202",
            default="200-299",
        ),
        Option(
            name="id_at",
            kind="text",
            says="where in a JSON answer the message's own number stands, as /messages/0/id",
            default="",
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
            says="how long to wait for the gateway",
            default=20.0,
        ),
        Option(
            name="hear_secret",
            kind="secret",
            says="the word with which what is posted back here is signed; without one nothing is taken",
            default="",
        ),
        Option(
            name="hear_at",
            kind="lines",
            says="where things stand in the JSON that is posted back, one a line: id, state, from, text, and each where a post is a list of parts",
            default="id /id\nstate /status\nfrom /from\ntext /text",
        ),
        Option(
            name="hear_words",
            kind="lines",
            says="which states mean that a message was delivered, and which that it failed",
            default="delivered: delivered\nfailed: failed undelivered undeliverable rejected expired",
        ),
    ),
    signed_by="hear_secret",
    check=_wrong,
)
