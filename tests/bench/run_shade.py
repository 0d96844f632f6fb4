"""Time a year of shade for many boats at as many places, on one core: run by hand on a quiet machine.

.venv/bin/python -m tests.bench.run_shade --boats 1000
"""

import argparse
import sys
import time
from datetime import UTC, datetime

from dispatch.trade.shade import PANELS, Hull, panel_shades
from dispatch.trade.sky import Site
from dispatch.trade.spans import Span

YEAR = Span(datetime(2027, 1, 1, tzinfo=UTC), datetime(2028, 1, 1, tzinfo=UTC))


def main() -> None:
    """Print the seconds of processor time, and how many spans were found."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--boats", type=int, default=1000)
    boats = parser.parse_args().boats
    begun, spans = time.process_time(), 0
    for boat in range(boats):
        site = Site(lat=-60 + 120 * boat / boats, lon=boat * 7 % 360 - 180, zone="UTC")
        hull = Hull(heading_true_deg=boat * 47 % 360)
        found = panel_shades(site, hull, PANELS, YEAR)
        spans += sum(len(one) for one in found.values())
    took = time.process_time() - begun
    sys.stdout.write(
        f"{boats} boats, {len(PANELS)} panels, a year each: {took:.1f} s, {spans} spans\n"
    )


if __name__ == "__main__":
    main()
