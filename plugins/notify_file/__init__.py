"""Messages into a file."""

from dispatch.hooks.manifest import Manifest, Option

MANIFEST = Manifest(
    name="notify_file",
    version="1.0",
    socket=1,
    summary="Appends each message to a file, once.",
    hooks=("send",),
    once=True,
    options=(
        Option(name="file", kind="text", says="the file that messages are appended to"),
    ),
)
