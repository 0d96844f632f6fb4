"""Time a burst of forecasts: many places at once, some workers; run by hand on a quiet machine.

.venv/bin/python -m tests.bench.run_burst FOLDER --places 500 --hours 168 --workers 2

Makes an outfit of its own in FOLDER, a boat with a wash at every place, and leaves every place's forecast to real
workers. Tells tasks a second, how many wait over time, and the database statements of one place. With ``--sources 2``
a service on this machine tells each place's sky too, and every stage is judged by both.
"""

import argparse
import csv
import os
import sys
import time
from collections.abc import Iterator
from contextlib import contextmanager, nullcontext
from datetime import datetime, timedelta
from pathlib import Path
from threading import Event

START = datetime.fromisoformat("2027-05-24T06:00:00-04:00")
SAMPLE_S, LONGEST_S = 2.0, 3600


def main() -> None:
    """Set the stage, let the workers at it, and print what was seen."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("folder", type=Path)
    for name, usual in (
        ("places", 500),
        ("hours", 168),
        ("workers", 2),
        ("sources", 1),
    ):
        parser.add_argument(f"--{name}", type=int, default=usual)
    given = parser.parse_args()
    given.folder.mkdir(parents=True, exist_ok=True)
    os.environ |= {
        "DJANGO_SETTINGS_MODULE": "dispatch.config.settings",
        "LEEBOARD_DATA": str(given.folder.absolute()),
        "LEEBOARD_WORKERS": str(given.workers),
    }
    set_up()
    stage(given.folder, given.places, given.hours)
    with second_source() if given.sources > 1 else nullcontext():
        burst(given.places)
        one_place()


def set_up() -> None:
    import django  # noqa: PLC0415 - the settings are read when it is
    from django.core.management import call_command  # noqa: PLC0415

    django.setup()
    call_command("migrate", interactive=False, verbosity=0)


def stage(folder: Path, places: int, hours: int) -> None:
    """An outfit with a boat and a wash at every place, and one file of hours for all of them."""
    from dispatch.actions import book, plugins  # noqa: PLC0415
    from dispatch.records.models import (  # noqa: PLC0415
        Boat,
        Customer,
        DueWork,
        JobKind,
        Outfit,
        Place,
    )
    from tests.actions import shop  # noqa: PLC0415

    if Outfit.objects.exists():
        sys.exit("There is an outfit in that folder already: name another.")
    Outfit.objects.create(
        id=1, name="Burst", time_zone="America/New_York", stands_at=START
    )
    shop.catalogue()
    kind = JobKind.objects.get(key="wash")
    customer = Customer.objects.create(name="Ames", time_zone="America/New_York")
    for number in range(places):
        place = Place.objects.create(
            key=f"p{number}",
            name=f"Place {number}",
            latitude=43 + number % 25 / 10,
            longitude=-70 + number // 25 / 10,
            time_zone="America/New_York",
        )
        boat = Boat.objects.create(
            key=f"b{number}",
            name=f"Boat {number}",
            customer=customer,
            length_m=6.1,
            place=place,
            heading_deg=85,
        )
        book.take_job(key=f"j{number}", boat=boat, kind=kind)
    written(folder / "forecast.csv", hours)
    plugins.enable("weather_file", {"folder": str(folder.absolute())})
    plugins.enable("weather_veto", {})
    DueWork.objects.all().delete()


@contextmanager
def second_source() -> Iterator[None]:
    """A service of forecasts on this machine, turned on for as long as the block lasts."""
    from dispatch.actions import plugins  # noqa: PLC0415
    from dispatch.records.models import DueWork  # noqa: PLC0415
    from tests.plugins import sky_shapes  # noqa: PLC0415
    from tests.plugins.asks import DEMO_SKY  # noqa: PLC0415

    with sky_shapes.serving(DEMO_SKY) as server:
        columns = {"address": server.address + sky_shapes.COLUMNS}
        plugins.enable("weather_columnar", columns)
        DueWork.objects.all().delete()
        yield
        sys.stdout.write(f"the service was asked {len(server.asked)} times\n")


def written(file: Path, hours: int) -> None:
    """Hours of a sky that changes, as the plugin of files reads them."""
    with file.open("w", newline="") as out:
        out.write(f"# issued {START.isoformat()}\n")
        rows = csv.writer(out)
        rows.writerow(
            [
                "time",
                "air_f",
                "dew_f",
                "rh_pct",
                "wind_mph",
                "gust_mph",
                "from_deg",
                "cloud_pct",
                "rain_in",
                "rain_prob_pct",
                "fog",
            ]
        )
        for n in range(hours):
            at, wave = START + timedelta(hours=n), n % 24
            sky = (
                58 + wave / 2,
                50,
                70 - wave,
                4 + wave / 6,
                9 + wave / 4,
                200,
                40,
                0,
                10,
                0,
            )
            rows.writerow([at.isoformat(), *sky])


def burst(places: int) -> None:
    """Leave every place to the workers at once, and watch the queue until it is empty."""
    from dispatch.actions import weather  # noqa: PLC0415
    from dispatch.cli import embedded  # noqa: PLC0415
    from dispatch.records.models import DueWork, Forecast, Judged  # noqa: PLC0415

    open_rows = DueWork.objects.filter(done_at__isnull=True)
    with embedded.running(worker=True, beat=True):
        begun = time.monotonic()
        weather.ask_later()
        while (waits := open_rows.count()) and time.monotonic() - begun < LONGEST_S:
            sys.stdout.write(
                f"{time.monotonic() - begun:7.1f} s: {waits} rows wait, "
                f"{Forecast.objects.count()} forecasts, {Judged.objects.count()} stages judged\n"
            )
            sys.stdout.flush()
            Event().wait(SAMPLE_S)
        took = time.monotonic() - begun
    done = DueWork.objects.filter(done_at__isnull=False)
    twice = done.filter(attempts__gt=1).count()
    sys.stdout.write(
        f"{places} places: {done.count()} rows in {took:.1f} s, {done.count() / took:.1f} a second; "
        f"{Forecast.objects.count()} forecasts, {Judged.objects.count()} stages judged, {twice} rows begun twice\n"
    )


def one_place() -> None:
    """Count the statements of one place whose forecast is new, and of one whose forecast is known."""
    from django.db import connection  # noqa: PLC0415
    from django.test.utils import CaptureQueriesContext  # noqa: PLC0415

    from dispatch.actions import sweeping, weather  # noqa: PLC0415
    from dispatch.records.models import Place  # noqa: PLC0415

    place = Place.objects.get(key="p0")
    for what in ("known", "new"):
        if what == "new":
            place.forecasts.all().delete()
        with CaptureQueriesContext(
            connection,
        ) as asked:
            weather.take_in(place)
            taken = len(asked)
            sweeping.sweep()
        sys.stdout.write(
            f"one place, forecast {what}: {taken} statements to take it in, {len(asked) - taken} for what it leaves behind\n"
        )


if __name__ == "__main__":
    main()
