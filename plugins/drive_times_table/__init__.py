"""Drive times by distance and by what people have found."""

from dispatch.hooks.manifest import Manifest, Option
from plugins.drive_times_table import pairs

MANIFEST = Manifest(
    name="drive_times_table",
    version="1.0",
    socket=1,
    summary="Tells drives by distance, and as you have timed them; it asks nobody.",
    hooks=("drives",),
    options=(
        Option(
            name="pairs",
            kind="lines",
            says="drives you have timed, a line each, both ways: shop oars-head 36, or shop oars-head 36 28.5 with the kilometres",
            default="",
        ),
    ),
    check=pairs.wrong,
)
