"""A person's visits for a calendar."""

from dispatch.hooks.manifest import Manifest, Option

MANIFEST = Manifest(
    name="calendar_feed",
    version="1.0",
    socket=1,
    summary="Writes each person's visits for a calendar to subscribe to.",
    hooks=("publish",),
    options=(
        Option(
            name="title",
            kind="text",
            says="what the calendar is called, before the person's name",
            default="Visits of",
        ),
        Option(
            name="refresh_minutes",
            kind="number",
            says="how often calendars are asked to look again",
            default=60.0,
        ),
    ),
    check=lambda given: (
        ""
        if 5 <= float(str(given["refresh_minutes"])) <= 1440
        else "option refresh_minutes must be from 5 to 1440."
    ),
)
