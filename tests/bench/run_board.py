"""Time the owner's board: 14, 60 and 200 boats, each with a visit; run by hand on a quiet machine.

.venv/bin/python -m tests.bench.run_board FOLDER [--boats 14 60 200] [--times 40]

Makes an outfit of its own in FOLDER. Tells, for so many boats: the milliseconds the server takes for the page
(half are under the first figure, 19 in 20 under the second), the database statements, and the bytes of the page.
"""

import argparse
import os
import sys
import time
from importlib import import_module
from pathlib import Path
from statistics import quantiles


def main() -> None:
    """Let the fleet grow, and look at the board each time."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("folder", type=Path)
    parser.add_argument("--boats", type=int, nargs="+", default=[14, 60, 200])
    parser.add_argument("--times", type=int, default=40)
    given = parser.parse_args()
    given.folder.mkdir(parents=True, exist_ok=True)
    os.environ |= {
        "DJANGO_SETTINGS_MODULE": "dispatch.config.settings",
        "LEEBOARD_DATA": str(given.folder.absolute()),
    }
    set_up()
    import_module("dispatch.config.wsgi")  # as a server starts
    already = 0
    for boats in sorted(given.boats):
        grow(already, boats)
        already = boats
        sys.stdout.write(f"{boats:4} boats: {look(given.times)}\n")
        sys.stdout.flush()


def set_up() -> None:
    import django  # noqa: PLC0415 - the settings are read when it is
    from django.core.management import call_command  # noqa: PLC0415

    django.setup()
    call_command("migrate", interactive=False, verbosity=0)
    from dispatch.actions import weather  # noqa: PLC0415
    from dispatch.records.models import Outfit  # noqa: PLC0415
    from tests.actions import plans  # noqa: PLC0415
    from tests.web import people  # noqa: PLC0415

    if Outfit.objects.exists():
        sys.exit("There is an outfit in that folder already: name another.")
    weather.take_in(plans.outfit())
    people.owner()


def grow(first: int, last: int) -> None:
    """Take more boats into the book, and give each a visit."""
    from tests.web.owner import test_statements  # noqa: PLC0415

    test_statements.fleet(first, last)
    test_statements.week()


def look(times: int) -> str:
    """Return what so many openings of the board took."""
    from django.conf import settings  # noqa: PLC0415
    from django.db import connection  # noqa: PLC0415
    from django.test import Client  # noqa: PLC0415
    from django.test.utils import CaptureQueriesContext  # noqa: PLC0415

    from dispatch.records.models import Account  # noqa: PLC0415

    settings.ALLOWED_HOSTS = ["testserver"]
    client = Client()
    client.force_login(Account.objects.get(role=Account.Role.OWNER))
    client.get("/week/")
    took = []
    for _ in range(times):
        began = time.perf_counter()
        answer = client.get("/week/")
        took.append(1000 * (time.perf_counter() - began))
    with CaptureQueriesContext(connection) as statements:
        client.get("/week/")
    cuts = quantiles(took, n=20)
    size = len(answer.content) / 1000
    return f"p50 {cuts[9]:.0f} ms, p95 {cuts[18]:.0f} ms, {len(statements)} statements, {size:.0f} kB"


if __name__ == "__main__":
    main()
