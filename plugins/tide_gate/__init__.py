"""Vetoes by the tide."""

from dispatch.hooks.manifest import Manifest, Option
from plugins.tide_gate import gates

MANIFEST = Manifest(
    name="tide_gate",
    version="1.0",
    socket=1,
    summary="Forbids work at places that are reached or afloat only around high water.",
    hooks=("vetoes",),
    options=(
        Option(
            name="gates",
            kind="lines",
            says="the places the tide shuts, a line each: oars-head 3 is usable 3 h either side of high water, oars-head above 1.2 where the tide stands 1.2 m or higher",
        ),
        Option(
            name="high_waters",
            kind="lines",
            says="high waters from a tide table, a line each by the place's clock, as 2027-05-24 09:10",
            default="",
        ),
        Option(
            name="constants",
            kind="lines",
            says="harmonic constants of the nearest station instead of a table, a line each: M2 1.36 104.0 is its amplitude in m and its phase lag on Greenwich in degrees",
            default="",
        ),
        Option(
            name="mean_m",
            kind="number",
            says="the station's mean level in m above the level that heights are told from",
            default=0.0,
        ),
    ),
    check=gates.wrong,
)
