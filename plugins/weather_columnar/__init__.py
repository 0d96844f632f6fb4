"""Forecasts by columns of hours, from a JSON service."""

from dispatch.hooks import fetch
from dispatch.hooks.manifest import Manifest, Option

MANIFEST = Manifest(
    name="weather_columnar",
    version="1.0",
    socket=1,
    summary="Reads forecasts from a JSON service of hourly columns.",
    hooks=("forecast",),
    options=(
        Option(
            name="address",
            kind="text",
            says="the service, https; more to ask may stand after a question mark",
        ),
        Option(
            name="looks_back",
            kind="yes-no",
            default=True,
            says="whether rain, its chance and gusts stand for the hour before their time",
        ),
        *fetch.OPTIONS,
    ),
    check=fetch.wrong,
)
