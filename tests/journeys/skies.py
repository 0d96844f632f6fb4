"""A stage of the demo week judged by its sky, for scenarios that ask what the pages say of a visit."""

from datetime import datetime, timedelta

from dispatch.actions import plugins, visit_sky, weather
from dispatch.records.models import Outfit, Place, Setting, Sheet, Stage, Visit
from dispatch.trade.spans import Span
from dispatch.trade.units import mph_to_ms
from tests.actions import laid, plans, posted
from tests.trade.lanternglass import TWO_PART

HAPPENED = "weather_as_it_happened.csv"
FORECAST = "forecast_issued_sun_1800.csv"


@laid.from_memory
def spray(file: str = HAPPENED, *, issued: str = "2027-05-24T05:00:00-04:00", **boat):
    """A spray stage as she lies, with the place's own sky taken in and nothing asked of shade.

    The confidence factor is left out, as the scenarios' margins are.
    """
    place = plans.outfit()
    Place.objects.update(wind_factor=1.0)
    Setting.objects.create(name="limits.confidence_factor", value=1)
    Outfit.objects.update(stands_at=datetime.fromisoformat(issued))
    plugins.enable("weather_file", plans.FORECAST | {"file": file, "issued_at": issued})
    job = plans.coat(place)
    type(job.boat).objects.update(**boat)
    Stage.objects.filter(job=job).update(panels=[])
    return job.stages.get(key="port-as-she-lies")


def two_part(stage: Stage) -> None:
    """Lay the demo's two-part instead; the sheet the stage has is given its limits."""
    names = set(TWO_PART.__dataclass_fields__) - {"name", "cautions"}
    values = {name: getattr(TWO_PART, name) for name in names}
    Sheet.objects.filter(pk=stage.sheet_id).update(**values)


def says(stage: Stage, start: datetime, end: datetime, **changes: object):
    """What the pages say of doing a stage over hours, after it is judged as it now stands."""
    Stage.objects.filter(pk=stage.pk).update(**changes)
    fresh = Stage.objects.select_related("job__boat__place", "sheet").get(pk=stage.pk)
    weather.judge(fresh)
    return visit_sky.of(fresh, Span(start, end), Outfit.objects.get().stands_at)


def coat(stage: Stage, day: int, ends: str, **changes: object):
    """The same of a quickest visit whose last coat ends at an hour."""
    end = plans.at(day, ends)
    return says(stage, end - timedelta(minutes=80), end, **changes)


def calm_hours(place: Place, issued: datetime, **hour: float) -> None:
    """A mild dry day of one hour's numbers, hour by hour from its issue on."""
    made = posted.warm(place, issued=issued, hours=220)
    given = {"gust_ms": mph_to_ms(8), "cloud_pct": 95} | hour
    made.hours.update(**given)


def visit(stage: Stage, day: int, start: str, minutes: int) -> Visit:
    rook = posted.Person.objects.get(key="rook")
    on = plans.at(day, "00:00").date()
    return posted.visit(posted.van_day(rook, day=on), stage, start, minutes)
