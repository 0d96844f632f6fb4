"""A person's visits as a table."""

from zoneinfo import available_timezones

from dispatch.hooks.manifest import Manifest, Option

MANIFEST = Manifest(
    name="export_csv",
    version="1.0",
    socket=1,
    summary="Writes each person's visits as a table for a spreadsheet or a payroll program.",
    hooks=("publish",),
    options=(
        Option(
            name="time_zone",
            kind="text",
            says="whose clock the times are by, as America/New_York",
            default="UTC",
        ),
    ),
    check=lambda given: (
        ""
        if given["time_zone"] in available_timezones()
        else f"option time_zone is {given['time_zone']}, which is no time zone; write it as America/New_York."
    ),
)
