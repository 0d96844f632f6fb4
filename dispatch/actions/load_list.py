"""What a van must have aboard for its day: product, gear, equipment, protection."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from dispatch.actions import breeze, fit_tests, kept_in, rates
from dispatch.records.models import (
    Equipment,
    Sheet,
    Skill,
    Stage,
    Standing,
    Tow,
    VanDay,
    Visit,
)
from dispatch.trade import film, numbers, units
from dispatch.trade.words import Words

_GEAR = {
    "washer": "Pressure washer",
    "polisher": "Polisher",
    "little-gun": "Little gun (electric), spare tip",
    "hand-tools": "Hand tools",
    "hoods": "Air-fed hoods",
}
_POUND_KG = 0.45359237
_READ = ("spray", "gelcoat", "wipe-on", "prep")


@dataclass(frozen=True, kw_only=True)
class Item:
    """One thing to have aboard, how much of it, for which boats, where it is fetched, and whether it is always in the van."""

    what: str
    much: str = ""
    boats: tuple[str, ...] = ()
    where: str = ""
    aboard: bool = False


def of(
    van_day: VanDay, visits: Sequence[Visit], tows: Sequence[Tow], words: Words
) -> tuple[Item, ...]:
    """The load of a van-day; product that is left to lay, with the outfit's reserve on top."""
    return (
        *_product(van_day, visits, words),
        *_protection(van_day, visits),
        *_gear(van_day, visits),
        *_equipment(visits, tows, words),
        *_supplies(visits, words),
        *_numbers(visits),
        *_meters(visits),
    )


def _boats(visits: Sequence[Visit]) -> tuple[str, ...]:
    return tuple(dict.fromkeys(visit.stage.job.boat.name for visit in visits))


def _product(van_day: VanDay, visits: Sequence[Visit], words: Words) -> Iterator[Item]:
    coverage = rates.coverage()
    reserve = 1 + coverage.carry_reserve
    left = [visit for visit in visits if visit.stage.state != Stage.State.DONE]
    for sheet in dict.fromkeys(
        visit.stage.sheet for visit in left if visit.stage.sheet
    ):
        mine = [visit for visit in left if visit.stage.sheet == sheet]
        need_ml = sum(breeze.product_ml(visit, coverage) for visit in mine) * reserve
        yield Item(
            what=sheet.name,
            much=_much(sheet, need_ml, words),
            boats=_boats(mine),
            where=kept_in.line(sheet, van_day, need_ml, words),
        )


def _much(sheet: Sheet, need_ml: float, words: Words) -> str:
    if not need_ml:
        return f"amount not worked out; a pack holds {words.volume(sheet.pack_ml)}"
    packs = film.packs_to_buy(need_ml, 0, sheet.pack_ml)
    return f"{words.volume(need_ml)} with reserve, {packs} of {words.volume(sheet.pack_ml)}"


def _protection(van_day: VanDay, visits: Sequence[Visit]) -> Iterator[Item]:
    hooded = [visit for visit in visits if _two_part(visit)]
    if hooded:
        fit = sorted(
            person.name
            for person in van_day.team.all()
            if any(_fits(skill, van_day) for skill in person.skills.all())
        )
        yield Item(
            what="Air-fed hoods, charged",
            much=f"{len(fit)}, fit test in date: {', '.join(fit)}"
            if fit
            else "nobody of the team has a fit test in date: do not open the can, call the owner",
            boats=_boats(hooded),
        )
    laid = [visit for visit in visits if visit.stage.sheet is not None]
    if laid:
        yield Item(
            what="Masks and gloves as the product's sheet says", boats=_boats(laid)
        )


def _two_part(visit: Visit) -> bool:
    sheet = visit.stage.sheet
    return sheet is not None and sheet.kind == Sheet.Kind.TWO_PART


def _fits(skill: Skill, van_day: VanDay) -> bool:
    """Whether a skill is a hood's whose fit test holds on the day."""
    return skill.name in fit_tests.FITTED and fit_tests.holds(skill, van_day.on)


def _gear(van_day: VanDay, visits: Sequence[Visit]) -> Iterator[Item]:
    guns = [
        visit
        for visit in visits
        if visit.stage.family == "spray" and "little-gun" not in visit.stage.gear
    ]
    if guns:
        yield Item(
            what="Spray gun with turbine and hose, spare tip", boats=_boats(guns)
        )
    for name in dict.fromkeys(name for visit in visits for name in visit.stage.gear):
        mine = [visit for visit in visits if name in visit.stage.gear]
        yield Item(
            what=_GEAR.get(name, name.replace("-", " ").capitalize()),
            boats=_boats(mine),
            aboard=name in van_day.van.gear,
        )


def _equipment(
    visits: Sequence[Visit], tows: Sequence[Tow], words: Words
) -> Iterator[Item]:
    moved = {tow.equipment.kind: tow for tow in tows}
    wanted = dict.fromkeys(
        row["kind"] for visit in visits for row in visit.stage.equipment
    )
    for kind in dict.fromkeys((*wanted, *moved)):
        mine = [
            visit
            for visit in visits
            if any(row["kind"] == kind for row in visit.stage.equipment)
        ]
        tow = moved.get(kind)
        thing = (
            tow.equipment
            if tow
            else Equipment.objects.filter(kind=kind, active=True).first()
        )
        yield Item(
            what=thing.name if thing else kind,
            much=_moved(tow, words) if tow else _stands(thing, mine),
            boats=_boats(mine),
        )


def _moved(tow: Tow, words: Words) -> str:
    heavy = weight(tow.equipment.weight_kg, words)
    return f"from {tow.origin.name} to {tow.destination.name}, {heavy}"


def weight(kilograms: float, words: Words) -> str:
    """A weight in the outfit's units."""
    pounds = kilograms / _POUND_KG
    return f"{pounds:,.0f} lb" if words.system == "us" else f"{kilograms:,.0f} kg"


def _stands(thing: Equipment | None, visits: Sequence[Visit]) -> str:
    """Where another van brings it before the first visit, or where it has stood; never a guess."""
    before = min(visit.start for visit in visits)
    tow = Tow.objects.filter(equipment=thing, end__lte=before).order_by("-end").first()
    if tow is not None:
        return f"brought to {tow.destination.name} by {tow.van_day.van.name}"
    last = (
        Standing.objects.filter(equipment=thing, since__lte=before)
        .order_by("-since")
        .first()
    )
    return (
        f"stands at {last.place.name}"
        if last
        else "nobody entered where it stands: ask the owner"
    )


def _supplies(visits: Sequence[Visit], words: Words) -> Iterator[Item]:
    dry = [visit for visit in visits if visit.stage.supplies.get("water_l")]
    if dry:
        litres = sum(visit.stage.supplies["water_l"] for visit in dry)
        yield Item(what="Water tank", much=_water(litres, words), boats=_boats(dry))
    dark = [visit for visit in visits if not visit.stage.job.boat.place.power]
    if dark:
        yield Item(
            what="Generator and fuel",
            much="3 kW: never two polishers beside the turbine",
            boats=_boats(dark),
        )


def _water(litres: float, words: Words) -> str:
    gallons = units.ml_to_oz(litres * 1000) / 128
    return f"{gallons:.0f} gal" if words.system == "us" else f"{litres:.0f} l"


def _numbers(visits: Sequence[Visit]) -> Iterator[Item]:
    for visit in visits:
        if visit.stage.key.startswith("letters"):
            boat = visit.stage.job.boat
            yield Item(
                what="Numbers and decals",
                much=_registration(boat.registration),
                boats=(boat.name,),
            )


def _registration(entered: str) -> str:
    """As it goes on her, with what looks wrong with it."""
    if not entered:
        return "registration not known: ask the owner"
    how = "both sides of her forward half, plain block letters 3 in at least, in contrast, to be read from left to right"
    doubt = numbers.doubt(entered)
    return doubt or f"{numbers.vessel_shown(entered)}, {how}"


def _meters(visits: Sequence[Visit]) -> Iterator[Item]:
    read = [visit for visit in visits if visit.stage.family in _READ]
    if read:
        yield Item(what="IR thermometer and hygrometer", boats=_boats(read))
