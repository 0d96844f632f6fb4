"""A week problem from the rows, and a week plan written by hand against it."""

from datetime import date, datetime, time
from zoneinfo import ZoneInfo

from dispatch.actions import book, plugins, snapshot, timeline, weather
from dispatch.records.models import (
    Account,
    Duty,
    Equipment,
    JobKind,
    Person,
    Skill,
    Standing,
    Van,
    Week,
    WeekPlan,
)
from tests.actions import laid, shop
from tests.trade.lanternglass import WEATHER, ZONE

MONDAY = date(2027, 5, 24)
FORECAST = {
    "folder": str(WEATHER),
    "file": "forecast_issued_sun_1800.csv",
    "issued_at": "2027-05-23T18:00:00-04:00",
}


def at(day: int, clock: str) -> datetime:
    """Return a moment of May 2027 by the wall clock of the place."""
    hour, minute = map(int, clock.split(":"))
    return datetime(2027, 5, day, hour, minute, tzinfo=ZoneInfo(ZONE))


def person(key: str, name: str, initials: str) -> Person:
    made = Person.objects.create(key=key, name=name, initials=initials, drives=True)
    for skill in ("prep", "mask", "lead", "hose", "spray-1", "repair", "polish"):
        Skill.objects.create(person=made, name=skill)
    for weekday in range(6):
        Duty.objects.create(person=made, weekday=weekday, start=time(7), end=time(17))
    return made


@laid.from_memory
def outfit():
    """Make an outfit with a driveway, two people, a van, a spray trailer, and its sky."""
    shop.outfit()
    shop.catalogue()
    place = shop.driveway(is_base=True)
    person("rook", "Rook Ferrante", "RF")
    person("teague", "Teague Amsel", "TA")
    Van.objects.create(
        key="knot",
        name="Knot",
        base=place,
        seats=5,
        tow_rating_kg=2000,
        gear=["washer", "polisher"],
        duty_start=time(6),
        duty_end=time(18),
    )
    shed = Equipment.objects.create(
        key="the-shed", name="The Shed", kind="spray-trailer", towed=True, screens=True
    )
    Standing.objects.create(equipment=shed, place=place, since=at(22, "18:00"))
    plugins.enable("weather_file", FORECAST)
    plugins.enable("weather_veto", {})
    return place


@laid.from_memory
def coat(place, **job: object):
    """Take a full spray coat of a 20 ft boat into the book, and judge its stages."""
    kind = JobKind.objects.get(key="spray-coat")
    given = {"key": "j1", "unfinished_cents": 100000, "sheet": shop.one_part()}
    made = book.take_job(boat=shop.boat(place), kind=kind, **(given | job))
    weather.take_in(place)
    for stage in made.stages.all():
        weather.judge(stage)
    return made


@laid.from_memory
def wash(place):
    """Take a maintenance wash into the book, and judge it."""
    kind = JobKind.objects.get(key="wash")
    made = book.take_job(
        key="j1", boat=shop.boat(place), kind=kind, unfinished_cents=50000
    )
    weather.take_in(place)
    for stage in made.stages.all():
        weather.judge(stage)
    return made


def draft(van_days, unplaced=(), **changes: object) -> WeekPlan:
    """Return a draft of the week as the rows stand, with these van-days."""
    week, _ = Week.objects.get_or_create(starts_on=MONDAY)
    line = timeline.of(week)
    plan = {
        "format": "week-plan/2",
        "van_days": [_van_day(line, *row) for row in van_days],
        "chosen": {"j1": "as-she-lies"},
        "unplaced": list(unplaced),
        "cost": {"total": 0},
        "bound": None,
    }
    given = {
        "week": week,
        "state": "draft",
        "asked_at": shop.NOW,
        "problem": snapshot.of(week),
        "plan": plan,
        "zero_at": line.zero,
        "built_at": shop.NOW,
    }
    return WeekPlan.objects.create(**(given | changes))


def _van_day(line, day, depart, back, visits):
    def minute(clock):
        return line.minute(at(day, clock))

    return {
        "van": "knot",
        "day": day - MONDAY.day,
        "team": ["rook", "teague"],
        "depart": minute(depart),
        "back": minute(back),
        "break": None,
        "stops": [
            {"do": "visit", "stage": name, "start": minute(start), "end": minute(end)}
            for name, start, end in visits
        ],
    }


def owner() -> Account:
    return Account.objects.create(username="orla", role="owner")
