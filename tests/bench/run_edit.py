"""Time a visit moved by hand on the board of a large week, door to door; run by hand on a quiet machine.

.venv/bin/python -m tests.bench.run_edit FOLDER [--seconds 15] [--times 60]

A week of the outside maker (some 190 stages in 64 boats) is planned for SECONDS and put into an outfit of its own in
FOLDER. Then visits are dropped at other hours: asked first (does it fit, what does it cost, or why does it spring
back), and where it fits put there by the form, and taken back. Tells, in milliseconds of the server: half are under
the first figure, 19 in 20 under the second, and the worst.
"""

import argparse
import os
import random
import re
import sys
import time
from importlib import import_module
from pathlib import Path
from statistics import quantiles
from typing import TYPE_CHECKING

from tests.bench import run_board
from tests.planner import weeks

if TYPE_CHECKING:
    from django.http import HttpResponse
    from django.test import Client

    from dispatch.records.models import WeekPlan

_ASKED = re.compile(r'name="(van|day|at|who)" value="([^"]*)"')
_STEPS = (-240, -60, -15, -5, 5, 15, 60, 240, 1440)


def main() -> None:
    """Plan the week, and move visits about in it."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("folder", type=Path)
    parser.add_argument("--seconds", type=float, default=15.0)
    parser.add_argument("--times", type=int, default=60)
    given = parser.parse_args()
    given.folder.mkdir(parents=True, exist_ok=True)
    os.environ |= {
        "DJANGO_SETTINGS_MODULE": "dispatch.config.settings",
        "LEEBOARD_DATA": str(given.folder.absolute()),
    }
    run_board.set_up()
    raw = weeks.made("large", 3)
    plan = weeks.planned(raw, steps=10**9, seconds=given.seconds)
    from tests.bench import large_week  # noqa: PLC0415 - it reads the settings

    row = large_week.stand(raw, plan)
    # A server as it starts; what the search left in memory, which no server holds, is laid by with it.
    import_module("dispatch.config.wsgi")
    sys.stdout.write(f"{len(names(row))} visits in {len(plan['van_days'])} van-days\n")
    for what, took in edits(row, given.times).items():
        sys.stdout.write(f"{what:15} {told(took)}\n")


def names(row: "WeekPlan") -> list[str]:
    """Return the stages that have a visit in a plan, in order."""
    stops = (stop for day in row.plan["van_days"] for stop in day["stops"])
    return sorted(stop["stage"] for stop in stops if stop["do"] == "visit")


def last(row: "WeekPlan") -> list[str]:
    """Return the stages that a van's day ends with: they have room after them."""
    return sorted(
        [stop["stage"] for stop in day["stops"] if stop["do"] == "visit"][-1]
        for day in row.plan["van_days"]
    )


def edits(row: "WeekPlan", times: int) -> dict[str, list[float]]:
    """Drop visits elsewhere; return the milliseconds of each kind of answer."""
    from django.conf import settings  # noqa: PLC0415
    from django.test import Client  # noqa: PLC0415

    from dispatch.records.models import Account  # noqa: PLC0415

    settings.ALLOWED_HOSTS = ["testserver"]
    client = Client()
    client.force_login(Account.objects.get(role=Account.Role.OWNER))
    dice = random.Random(1)  # noqa: S311 - a bench
    found: dict[str, list[float]] = {}
    drop(client, row, names(row)[0], 30)
    for _ in range(times):
        stage, by = (
            dice.choice(dice.choice((names(row), last(row)))),
            dice.choice(_STEPS),
        )
        answer, ms = drop(client, row, stage, by)
        fits = b'name="van"' in answer.content
        found.setdefault("asked, fits" if fits else "asked, springs back", []).append(
            ms
        )
        if fits:
            put, undone = there_and_back(client, row, stage, answer.text)
            found.setdefault("put there", []).append(put)
            found.setdefault("taken back", []).append(undone)
    return found


def drop(
    client: "Client", row: "WeekPlan", stage: str, by: int
) -> tuple["HttpResponse", float]:
    """Ask what a drop would do."""
    began = time.perf_counter()
    answer = client.get(f"/week/plan/{row.pk}/drop/{stage}/", {"by": by})
    return answer, 1000 * (time.perf_counter() - began)


def there_and_back(
    client: "Client", row: "WeekPlan", stage: str, page: str
) -> tuple[float, float]:
    """Put a visit where it fits by the form the answer offers, and take it back."""
    from dispatch.records.models import WeekPlan  # noqa: PLC0415

    sent: dict[str, list[str]] = {}
    for name, value in _ASKED.findall(page):
        sent.setdefault(name, []).append(value)
    began = time.perf_counter()
    client.post(f"/week/why/{stage}/moves/put/", {**sent, "plan": row.pk})
    put = 1000 * (time.perf_counter() - began)
    made = WeekPlan.objects.latest("pk")
    if made.origin_id != row.pk:
        sys.exit(f"{stage} fits there, and was not put there.")
    began = time.perf_counter()
    client.post(f"/week/plan/{made.pk}/undo/")
    return put, 1000 * (time.perf_counter() - began)


def told(took: list[float]) -> str:
    """Return times as a line."""
    if len(took) < 2:
        return f"{len(took)} only"
    cuts = quantiles(took, n=20)
    return f"{len(took):4} times, p50 {cuts[9]:4.0f} ms, p95 {cuts[18]:4.0f} ms, worst {max(took):4.0f} ms"


if __name__ == "__main__":
    main()
