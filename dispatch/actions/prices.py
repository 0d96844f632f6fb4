"""A job's price by the catalogue, line by line: length, condition and shape, repairs, the drive to her."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from dispatch.actions import rates
from dispatch.actions.setting_units import MILE_KM
from dispatch.actions.worth import Prices
from dispatch.planner import travel
from dispatch.records.models import Boat, Job, JobKind, Outfit, Place
from dispatch.trade import units
from dispatch.trade.words import Words


@dataclass(frozen=True, kw_only=True)
class Line:
    """One part of a price in words, with its cents in whole dollars."""

    words: str
    cents: int


@dataclass(frozen=True, kw_only=True)
class Price:
    """What the catalogue asks for a job: its lines, and their sum."""

    lines: tuple[Line, ...]

    @property
    def cents(self) -> int:
        """The lines together."""
        return sum(line.cents for line in self.lines)


def of(job: Job) -> Price:
    """The price of a job as it is entered."""
    return listed(job.kind, job.boat, grade=job.grade, repairs=job.repairs)


def listed(
    kind: JobKind, boat: Boat, *, grade: int, repairs: Mapping[str, int]
) -> Price:
    """The price of a kind of job for a boat in a condition; nothing where the kind has none.

    ``repairs`` counts small, medium and large ones under S, M and L.
    """
    if not kind.cents_per_ft and not kind.flat_cents:
        return Price(lines=())
    by, words = rates.prices(), Words(system=_system())
    lines = (
        *_length(kind, boat, grade, by, words),
        *_flat(kind),
        *_repairs(repairs, by),
        *_drive(boat, by, words),
    )
    return Price(lines=lines)


def drive_km(boat: Boat) -> float | None:
    """The way to her by road from the nearest base; None where no base is known."""
    roads, there = rates.roads(), boat.place
    ways = [
        travel.drive(
            base.latitude, base.longitude, there.latitude, there.longitude, roads
        )[1]
        for base in Place.objects.filter(is_base=True)
    ]
    return min(ways) / 1000 if ways else None


def returning(job: Job) -> bool:
    """Whether her boat was handed back from a job before."""
    before = job.boat.jobs.filter(state=Job.State.HANDED_BACK)
    return before.exclude(pk=job.pk).exists()


def _length(
    kind: JobKind, boat: Boat, grade: int, by: Prices, words: Words
) -> Iterator[Line]:
    if not kind.cents_per_ft:
        return
    worn = getattr(by, f"grade_{grade}")
    shaped = rates.labour_rates().shapes.get(boat.shape, 1.0)
    metric = words.system == "metric"
    each = kind.cents_per_ft / units.FT_M if metric else kind.cents_per_ft
    said = f"{_dollars(each)} a {'metre' if metric else 'foot'} for {words.distance(boat.length_m)}"
    said += f", {worn:g} times for grade {grade}" if worn != 1 else ""
    said += f", {shaped:g} times for her shape" if shaped != 1 else ""
    feet = units.m_to_ft(boat.length_m)
    yield Line(words=said, cents=_whole(kind.cents_per_ft * feet * worn * shaped))


def _flat(kind: JobKind) -> Iterator[Line]:
    if kind.flat_cents:
        yield Line(words="Flat", cents=_whole(kind.flat_cents))


def _repairs(repairs: Mapping[str, int], by: Prices) -> Iterator[Line]:
    sizes = {"S": "small", "M": "medium", "L": "large"}
    for size, word in sizes.items():
        if count := repairs.get(size, 0):
            cents = count * getattr(by, f"repair_{word}_cents")
            said = f"{count} {word} repair{'s' if count > 1 else ''}"
            yield Line(words=said, cents=_whole(cents))


def _drive(boat: Boat, by: Prices, words: Words) -> Iterator[Line]:
    """The way beyond what is free, by road from the nearest base; unpriced where no base is known."""
    beyond_km = (drive_km(boat) or 0) - by.free_km
    if beyond_km > 0 and (cents := _whole(beyond_km * by.cents_per_km)):
        yield Line(
            words=f"{_far(beyond_km, words)} of drive beyond what is free", cents=cents
        )


def _far(km: float, words: Words) -> str:
    metric = words.system == "metric"
    return f"{km:.0f} km" if metric else f"{km / MILE_KM:.0f} miles"


def _whole(cents: float) -> int:
    """To the dollar: an estimate is no truer for its cents."""
    return round(cents / 100) * 100


def _dollars(cents: float) -> str:
    return f"${cents / 100:,.0f}" if cents % 100 == 0 else f"${cents / 100:,.2f}"


def _system() -> str:
    return Outfit.objects.values_list("units", flat=True).first() or Outfit.Units.US
