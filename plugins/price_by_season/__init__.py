"""The catalogue's prices by the month, for boats that come back, and no less than a job is worth coming for."""

from dispatch.hooks.manifest import Manifest, Option
from plugins.price_by_season import months

MANIFEST = Manifest(
    name="price_by_season",
    version="1.0",
    socket=1,
    summary="Prices jobs by the catalogue, more or less by the month and for boats that come back.",
    hooks=("price",),
    options=(
        Option(
            name="months",
            kind="lines",
            says="months that cost more or less, a line each in percent: 5 15 is 15 % more in May, 11 -10 is 10 % less in November",
            default="",
        ),
        Option(
            name="returning_pct",
            kind="number",
            says="percent less for a boat that was handed back before",
            default=0.0,
        ),
        Option(
            name="least",
            kind="number",
            says="the least a job costs, in dollars",
            default=0.0,
        ),
    ),
    check=months.wrong,
)
