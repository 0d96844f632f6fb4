"""Vetoes by the sun alone."""

from dispatch.hooks.manifest import Manifest, Option

MANIFEST = Manifest(
    name="sun_veto",
    version="1.0",
    socket=1,
    summary="Keeps sprayed panels out of the sun with a margin, whatever the clouds are forecast to do.",
    hooks=("vetoes",),
    options=(
        Option(
            name="margin_minutes",
            kind="number",
            says="how long before the sun comes the panel must be left alone, and after it has gone, 0 to 120",
            default=15.0,
        ),
    ),
    check=lambda given: (
        ""
        if 0 <= float(str(given["margin_minutes"])) <= 120
        else "option margin_minutes must be from 0 to 120."
    ),
)
