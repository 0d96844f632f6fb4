"""Drive times from a road service."""

from dispatch.hooks import fetch
from dispatch.hooks.manifest import Manifest, Option
from plugins.drive_times_http import requests

MANIFEST = Manifest(
    name="drive_times_http",
    version="1.0",
    socket=1,
    summary="Asks a road service of yours how long it is from place to place.",
    hooks=("drives",),
    options=(
        Option(
            name="address",
            kind="text",
            says="where the service answers, as https://roads.example.org, without what is asked",
        ),
        Option(
            name="shape",
            kind="text",
            says="how it is asked: /table, or /sources_to_targets",
            default="table",
            choices=("table", "sources_to_targets"),
        ),
        Option(
            name="profile",
            kind="text",
            says="by what is driven, as the service calls it: driving for a table, auto for the other",
            default="driving",
        ),
        Option(
            name="most_places",
            kind="number",
            says="how many places the service takes in one request, 2 to 400",
            default=80.0,
        ),
        *fetch.OPTIONS,
    ),
    check=requests.wrong,
)
