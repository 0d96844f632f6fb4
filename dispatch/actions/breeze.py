"""What a breeze carries off, and a trainee lays too much of: more product than the hull takes."""

from dispatch.actions import clock, facts, to_lay
from dispatch.records.models import Stage, Visit
from dispatch.trade import sky
from dispatch.trade.film import Coverage
from dispatch.trade.spans import Span

_GUNS = {"spray-1", "spray-2"}


def product_ml(visit: Visit, coverage: Coverage) -> float:
    """Millilitres a visit that is not done has left to lay, with what a breeze carries off where the forecast has one, and a trainee on the gun.

    Under a roof no breeze does. Hours without a gust add nothing: such a visit is not a go in any case. What a first
    coat really took has all of that in it.
    """
    stage = visit.stage
    left, first = to_lay.ml(stage), to_lay.first_coat(stage)
    if stage.family != "spray" or (first is not None and first.used_ml is not None):
        return left
    more = coverage.trainee_waste if _trainee_sprays(visit) else 0.0
    gust = None if stage.cover == Stage.Cover.ROOF else _gust_ms(visit)
    if gust is not None and gust > coverage.breeze_gust_ms:
        more += coverage.breeze_waste
    return left * (1 + more)


def _trainee_sprays(visit: Visit) -> bool:
    """Whether everybody of the team who may hold the gun is a trainee."""
    guns = {need["skill"] for need in visit.stage.needs} & _GUNS
    able = [
        person
        for person in visit.van_day.team.all()
        if guns & {skill.name for skill in person.skills.all()}
    ]
    return bool(able) and all(person.not_alone for person in able)


def _gust_ms(visit: Visit) -> float | None:
    """The strongest gust at the place in the hours of a visit."""
    place, span = visit.stage.job.boat.place, Span(visit.start, visit.end)
    found = facts.sky_of(facts.latest_forecast(place, clock.now()), span)
    if found is None:
        return None
    hours = sky.local(found, facts.site(place, span)).hours
    gusts = [hour.gust_ms for hour in hours if hour.gust_ms is not None]
    return max(gusts, default=None)
