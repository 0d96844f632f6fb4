"""A posted day: a van with two people, a boat in a driveway, visits and what the sky says against them."""

from datetime import date, datetime, time, timedelta
from zoneinfo import ZoneInfo

from dispatch.actions import book, timeline
from dispatch.actions.snapshot_stages import key
from dispatch.records.models import (
    Account,
    Boat,
    Forecast,
    ForecastHour,
    Job,
    JobKind,
    Judged,
    Outfit,
    Person,
    Place,
    Skill,
    Stage,
    Van,
    VanDay,
    Veto,
    Visit,
    Week,
    WeekPlan,
)
from tests.actions import laid, shop
from tests.trade.lanternglass import ZONE

MONDAY = date(2027, 5, 24)


def at(clock: str, day: date = MONDAY) -> datetime:
    """A wall-clock time of a day at the place."""
    return datetime.combine(day, time.fromisoformat(clock), tzinfo=ZoneInfo(ZONE))


def stand(clock: str, day: date = MONDAY) -> datetime:
    """Put the demo's clock to a time and return it."""
    Outfit.objects.update(stands_at=at(clock, day))
    return at(clock, day)


def person(key: str, *skills: str, role: str = "crew") -> Person:
    made = Person.objects.create(key=key, name=key.title(), initials=key[:2].upper())
    for name in skills:
        Skill.objects.create(person=made, name=name, fit_test_until=date(2027, 12, 31))
    Account.objects.create(username=key, role=role, person=made)
    return made


@laid.from_memory
def sprayed(**terms: object) -> Job:
    """An outfit, a driveway and a 20-foot boat that is to be sprayed there as she lies."""
    shop.outfit()
    shop.catalogue()
    given = {"sheet": shop.one_part(people="Cartridge mask and gloves.")} | terms
    kind = JobKind.objects.get(key="spray-coat")
    return book.take_job(key="j1", boat=shop.boat(shop.driveway()), kind=kind, **given)


def beside(job: Job) -> Job:
    """Another boat just like it, to be sprayed in the same row."""
    hull = shop.boat(job.boat.place, key="curlew", name="Curlew", berth="row 2")
    return book.take_job(key="j2", boat=hull, kind=job.kind, sheet=job.sheet)


def van_day(*team: Person, day: date = MONDAY) -> VanDay:
    """A van that leaves a shop of its own 10 km off at 07:00 with a team."""
    base, _ = Place.objects.get_or_create(
        key="s0",
        defaults={
            "name": "Shop",
            "latitude": 44.0935,
            "longitude": -69.124,
            "time_zone": ZONE,
            "is_base": True,
        },
    )
    van, _ = Van.objects.get_or_create(
        key="knot",
        defaults={
            "name": "Knot",
            "base": base,
            "seats": 5,
            "gear": ["washer"],
            "duty_start": time(6),
            "duty_end": time(18),
        },
    )
    week, _ = Week.objects.get_or_create(starts_on=MONDAY)
    plan, _ = WeekPlan.objects.get_or_create(
        week=week, state="standing", defaults={"asked_at": shop.NOW}
    )
    made = VanDay.objects.create(
        plan=plan, van=van, on=day, depart=at("07:00", day), back=at("17:00", day)
    )
    made.team.set(team)
    return made


def visit(day: VanDay, stage: Stage, start: str, minutes: int = 60) -> Visit:
    begins = at(start, day.on)
    return Visit.objects.create(
        stage=stage, van_day=day, start=begins, end=begins + timedelta(minutes=minutes)
    )


def was_sent(
    plan: WeekPlan, team: tuple[Person, ...], *stops: tuple[Stage, str, str]
) -> WeekPlan:
    """A plan of the same week that stood before, with one van-day on the Monday."""
    line = timeline.of(plan.week)
    rows = [
        {
            "do": "visit",
            "stage": key(one),
            "start": line.minute(at(start)),
            "end": line.minute(at(end)),
        }
        for one, start, end in stops
    ]
    day = {
        "van": "knot",
        "day": 0,
        "team": [person.key for person in team],
        "depart": line.minute(at("07:00")),
        "back": line.minute(at("17:00")),
        "stops": rows,
    }
    return WeekPlan.objects.create(
        week=plan.week,
        state="past",
        asked_at=at("06:00"),
        plan={"van_days": [day]},
    )


def judged(stage: Stage, *vetoes: tuple[str, str, str], **changes: object) -> None:
    """Store a judgement over the week, with vetoes ``(from, to, sentence)`` on the Monday."""
    given = {
        "since": shop.NOW,
        "until": shop.NOW + timedelta(days=9),
        "at": shop.NOW,
        "forecast": stage.job.boat.place.forecasts.order_by("-issued_at").first(),
    }
    Judged.objects.create(stage=stage, plugin="weather_veto", **(given | changes))
    for start, end, sentence in vetoes:
        Veto.objects.create(
            stage=stage,
            plugin="weather_veto",
            edge="during",
            start=at(start),
            end=at(end),
            code="wind",
            sentence=sentence,
            strength="wall",
        )


def warm(place: Place, *, issued: datetime = shop.NOW, hours: int = 72) -> Forecast:
    """A forecast of 70 F throughout from the hour of its issue: an hour of cure is an hour by the clock."""
    made = Forecast.objects.create(
        place=place, source="test", issued_at=issued, taken_in_at=issued
    )
    ForecastHour.objects.bulk_create(
        ForecastHour(
            forecast=made,
            at=issued + timedelta(hours=hour),
            air_c=21.1111111111,
            dew_c=8,
            rh_pct=45,
            wind_ms=2,
            gust_ms=3,
            from_deg=200,
            cloud_pct=100,
            rain_mm=0,
            rain_prob_pct=5,
        )
        for hour in range(hours)
    )
    return made


def boat() -> Boat:
    return Boat.objects.get(key="second-wind")
