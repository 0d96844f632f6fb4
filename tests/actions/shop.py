"""A small outfit in the database: one base, one driveway, one boat, the whole catalogue."""

import json
from datetime import datetime, time
from pathlib import Path
from zoneinfo import ZoneInfo

from dispatch.records.models import (
    AccessHours,
    Boat,
    CatalogueRow,
    Customer,
    JobKind,
    Outfit,
    Place,
    Sheet,
)
from dispatch.trade import units
from tests.trade.lanternglass import ONE_PART, ZONE

FIXTURES = Path(__file__).parents[2] / "fixtures"
NOW = datetime(2027, 5, 23, 19, tzinfo=ZoneInfo(ZONE))


def outfit() -> Outfit:
    return Outfit.objects.create(
        id=1, name="Tarrow & Daughter", time_zone=ZONE, stands_at=NOW
    )


def catalogue() -> None:
    for kind in json.loads((FIXTURES / "catalogue.json").read_text()):
        rows = kind.pop("rows")
        made = JobKind.objects.create(**kind)
        for position, row in enumerate(rows, 1):
            CatalogueRow.objects.create(kind=made, **{"position": position} | row)


def driveway(**changes: object) -> Place:
    given = {
        "key": "s5",
        "name": "Marrow Road",
        "latitude": 44.128,
        "longitude": -69.182,
        "time_zone": ZONE,
        "declination_deg": -15.5,
        "wind_factor": 0.55,
    }
    place = Place.objects.create(**(given | changes))
    for weekday in range(6):
        AccessHours.objects.create(
            place=place, weekday=weekday, start=time(7, 30), end=time(19)
        )
    return place


def boat(place: Place, *, feet: float = 20, **changes: object) -> Boat:
    customer = Customer.objects.create(name="Ames", time_zone=ZONE)
    given = {
        "key": "second-wind",
        "name": "Second Wind",
        "customer": customer,
        "length_m": units.ft_to_m(feet),
        "place": place,
        "heading_deg": 85,
    }
    return Boat.objects.create(**(given | changes))


def one_part(**changes: object) -> Sheet:
    names = [
        name
        for name in ONE_PART.__dataclass_fields__
        if name not in ("name", "cautions")
    ]
    values = {name: getattr(ONE_PART, name) for name in names}
    return Sheet.objects.create(
        **(
            {"key": "one", "name": "Lanternglass One", "pack_ml": 946}
            | values
            | changes
        )
    )
