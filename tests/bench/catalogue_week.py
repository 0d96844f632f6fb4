"""A week of twenty jobs out of the stage catalogue, as the tables and the snapshot really make it."""

import json
from datetime import date
from pathlib import Path
from typing import Any

from dispatch.actions import book, scenario, snapshot, weather
from dispatch.records.models import (
    Boat,
    Customer,
    JobKind,
    Place,
    Sheet,
    Stage,
    Week,
)

ROOT = Path(__file__).parents[2]
DEMO = ROOT / "fixtures" / "demo"
MONDAY = date(2027, 5, 24)
# Six jobs beside the demo's fourteen: kind, sheet, place, feet, true heading, grade.
MORE = {
    "j15": ("spray-coat", "wrackline-two", "s5", 22, 350, 2),
    "j16": ("spray-coat", "lanternglass-one", "s7", 18, 45, 1),
    "j17": ("spray-coat", "lanternglass-one", "s6", 24, 100, 3),
    "j18": ("oxidation", None, "s4", 26, 0, 3),
    "j19": ("gelcoat-repair", None, "s1", 21, 300, 2),
    "j20": ("interior", None, "s3", 30, 140, 2),
}


def fill() -> None:
    """Put the demo's outfit with its fourteen jobs and six more into an empty house, and judge every stage."""
    people = json.loads((DEMO / "people.json").read_text())
    scenario.load(DEMO, passwords={p["key"]: f"{p['key']}'s own words" for p in people})
    for key, row in MORE.items():
        _take(key, *row)
    for place in weather.places():
        weather.take_in(place)
    for stage in Stage.objects.select_related("job__boat__place", "job__sheet"):
        weather.judge(stage)


def _take(key: str, kind: str, sheet: str | None, *lies: Any) -> None:
    place, feet, heading, grade = lies
    boat = Boat.objects.create(
        key=f"boat-{key}",
        name=f"Boat {key}",
        customer=Customer.objects.order_by("pk")[0],
        length_m=feet * 0.3048,
        place=Place.objects.get(key=place),
        heading_deg=heading,
    )
    book.take_job(
        key=key,
        boat=boat,
        kind=JobKind.objects.get(key=kind),
        sheet=Sheet.objects.get(key=sheet) if sheet else None,
        grade=grade,
        unfinished_cents=feet * 4000,
        late_cents_per_hour=300,
    )


def problem() -> dict[str, Any]:
    """Return the week problem of the tables as they stand."""
    week, _ = Week.objects.get_or_create(starts_on=MONDAY)
    return json.loads(json.dumps(snapshot.of(week)))


def write(path: str) -> None:
    """Fill the house and write its week problem to a file."""
    fill()
    Path(path).write_text(json.dumps(problem()))
