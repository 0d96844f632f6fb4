"""Forecasts by layers of intervals over a grid, from a JSON service."""

from dispatch.hooks import fetch
from dispatch.hooks.manifest import Manifest, Option

MANIFEST = Manifest(
    name="weather_gridpoint",
    version="1.0",
    socket=1,
    summary="Reads forecasts from a JSON service of gridpoints and intervals.",
    hooks=("forecast",),
    options=(
        Option(
            name="address",
            kind="text",
            says="the service, https, without the /points/ part",
        ),
        *fetch.OPTIONS,
    ),
    check=fetch.wrong,
)
