"""Vetoes by a place's hours, its quiet hours and its holidays."""

from dispatch.hooks.manifest import Manifest, Option
from plugins.site_hours import book

MANIFEST = Manifest(
    name="site_hours",
    version="1.0",
    socket=1,
    summary="Forbids work outside a place's hours, noise in its quiet hours, and work on its holidays.",
    hooks=("vetoes",),
    options=(
        Option(
            name="access",
            kind="lines",
            says="the hours of a place's gate, a line each, with what its own page says plugins call it, as marrow-road Mon-Fri 07:00-17:00; a place without a line is not held to any here",
            default="",
        ),
        Option(
            name="noise",
            kind="lines",
            says="the hours in which a place may be loud, a line each in the same way; * stands for every place without a line of its own",
            default="",
        ),
        Option(
            name="noisy",
            kind="text",
            says="the kinds of work that are loud",
            default="wash prep gelcoat spray polish wax letters",
        ),
        Option(
            name="country",
            kind="text",
            says="whose public holidays, as two letters (US); empty for none",
            default="",
        ),
        Option(
            name="region",
            kind="text",
            says="the state or province, as ME, where it has holidays of its own",
            default="",
        ),
        Option(
            name="closed",
            kind="text",
            says="the places that are shut on public holidays; * is every place",
            default="*",
        ),
        Option(
            name="exempt",
            kind="lines",
            says="days on which a place lets you in all the same, a line each, as marrow-road 2027-05-31",
            default="",
        ),
    ),
    check=book.wrong,
)
