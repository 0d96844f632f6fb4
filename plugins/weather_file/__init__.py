"""Forecasts from hourly CSV files."""

from dispatch.hooks.manifest import Manifest, Option

MANIFEST = Manifest(
    name="weather_file",
    version="1.0",
    socket=1,
    summary="Reads hourly forecasts from CSV files.",
    hooks=("forecast",),
    options=(
        Option(name="folder", kind="text", says="the folder the files lie in"),
        Option(
            name="file",
            kind="text",
            default="forecast.csv",
            says="the file of places that have none of their own",
        ),
        Option(
            name="issued_at",
            kind="text",
            default="",
            says="when it was issued, ISO 8601; empty reads it from the file",
        ),
    ),
)
