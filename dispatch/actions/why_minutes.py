"""Why a job's labour and product are what they are: each step's rate by her length and factors, each part's area by its rate."""

from collections.abc import Iterator
from dataclasses import dataclass

from dispatch.actions import per_length, stages
from dispatch.actions.errors import Refused
from dispatch.actions.stages import Making
from dispatch.records.models import CatalogueRow, Job, Outfit
from dispatch.trade import cure, film, labour, units
from dispatch.trade.words import Words

_COATS = 2


@dataclass(frozen=True, kw_only=True)
class Why:
    """The factor that every foot is multiplied by, each step and each part that is coated, as sentences."""

    factor: str
    steps: tuple[str, ...]
    product: tuple[str, ...]


def of(job: Job) -> Why | None:
    """How the numbers of a job's estimate come about by the catalogue and the settings now; None where it cannot be made."""
    try:
        making = stages.making_of(job)
    except Refused:
        return None
    words = Words(system=Outfit.objects.get().units)
    return Why(
        factor=_factor(making, words),
        steps=tuple(_steps(making, words)),
        product=tuple(_product(making, words)) if job.kind.sprays else (),
    )


def _factor(making: Making, words: Words) -> str:
    boat, rates = making.job.boat, making.labour
    place = boat.place
    long = labour.length_factor(making.length_ft, rates)
    access = labour.access_factor(
        water=place.water, power=place.power, afloat=place.afloat, rates=rates
    )
    over = words.distance(units.ft_to_m(rates.long_boat_ft))
    parts = [
        f"{long:.2f} for {words.distance(boat.length_m)} (more than 1 over {over})",
        f"{rates.shapes[boat.shape]:g} for her shape, {boat.shape.replace('-', ' ')}",
        f"{access:g} for {place.name} (water, power, a float)",
    ]
    learnt = (
        f"; then {making.learnt:g} times, as the last like it taught"
        if making.learnt != 1
        else ""
    )
    return f"{making.factor:.2f} = {' x '.join(parts)}{learnt}."


def _steps(making: Making, words: Words) -> Iterator[str]:
    for rows in making.rows.values():
        for row in rows:
            step = stages.step_of(making, row)
            if step.labour_minutes or step.clock_minutes:
                yield _step(making, row, step) + _left(step, words) + "."


def _step(making: Making, row: CatalogueRow, step: labour.Step) -> str:
    parts = list(_parts(making, row))
    whole = " + ".join(parts) or "0 min"
    if row.share != 1:
        whole = f"({whole}) x {row.share:g}, the part of it that falls here"
    if making.learnt != 1 and parts:
        whole = f"{whole} x {making.learnt:g}"
    bare = parts == [f"{row.fixed_minutes:g} min once"] == [whole]
    told = (
        f"{row.name}: {whole if bare else f'{whole} = {step.labour_minutes:.0f} min'}"
    )
    clock = (
        f"; {step.clock_minutes:.0f} min by the clock whatever the team"
        if step.clock_minutes
        else ""
    )
    return f"{told}{clock}"


def _left(step: labour.Step, words: Words) -> str:
    """What a step leaves the boat waiting for, and whether it fills such a wait."""
    said = f"; then she is left {step.hold_minutes:g} min" if step.hold_minutes else ""
    if step.hold_ref_minutes:
        at = words.degrees(cure.REFERENCE_C)
        said += f"; then the fill is left {step.hold_ref_minutes:g} min at {at}"
    return f"{said}; done while she dries or a fill kicks" if step.meanwhile else said


def _parts(making: Making, row: CatalogueRow) -> Iterator[str]:
    job, by = making.job, per_length.of_outfit()
    if row.fixed_minutes:
        yield f"{row.fixed_minutes:g} min once"
    per_ft = (row.per_ft_1, row.per_ft_2, row.per_ft_3, row.per_ft_4)[job.grade - 1]
    if per_ft:
        yield f"{by.shown(per_ft):.3g} min {by.a} at grade {job.grade} x {by.long(making.length_ft)} x {making.factor:.2f}"
    for size, count in job.repairs.items():
        if count and row.per_repair.get(size):
            yield f"{count} repair{'s' if count != 1 else ''} {size} x {row.per_repair[size]:g} min"
    if row.per_panel and job.panels:
        yield f"{job.panels} panel{'s' if job.panels != 1 else ''} x {row.per_panel:g} min"


def _product(making: Making, words: Words) -> Iterator[str]:
    boat, coverage = making.job.boat, making.coverage
    hull = film.Topsides(length_m=boat.length_m, freeboard_m=boat.freeboard_m)
    rate = film.product_ml(1.0, coats=1, waste=1.0, coverage=coverage)
    high = (
        "her freeboard as measured"
        if boat.freeboard_m
        else "her freeboard estimated from her length"
    )
    for name, area, how in (
        ("Each side", film.side_m2(hull), high),
        ("Transom", film.transom_m2(hull), "estimated from her length"),
    ):
        both = film.product_ml(area, coats=_COATS, waste=1.0, coverage=coverage)
        yield (
            f"{name}: {_COATS} coats x {_rate(rate, words)} x {_area(area, words)} ({how}) = {words.volume(both)}."
        )
    yield (
        f"By the electric gun {coverage.electric_waste:g} times as much; carried in case {coverage.carry_reserve * 100:g} % more."
    )


def _rate(ml_per_m2: float, words: Words) -> str:
    if words.system == "us":
        return f"{units.ml_to_oz(ml_per_m2) * units.FT_M**2:.3f} oz a sq ft"
    return f"{ml_per_m2:.0f} ml a m²"


def _area(m2: float, words: Words) -> str:
    return f"{m2 / units.FT_M**2:.1f} sq ft" if words.system == "us" else f"{m2:.1f} m²"
