"""The outfit's editable rates and limits: the trade's defaults, with what the owner has set over them."""

from collections.abc import Mapping
from dataclasses import dataclass, fields, replace
from typing import Any

from dispatch.actions import one_moment
from dispatch.actions.recipes import AFTER_TURN, RECIPES, SIDES, TURN
from dispatch.actions.worth import Board, Crew, Planning, Prices, Promises
from dispatch.planner import travel
from dispatch.records.models import Setting
from dispatch.trade import air, buffer, film, labour, strain
from dispatch.trade.limits import FAMILIES, FamilyLimits, Limits
from dispatch.trade.shifts import Breaks, ShiftLimits


@dataclass(frozen=True, kw_only=True)
class Day:
    """Breaks, common practice, and assumptions: the longest visit a team is given, loading at the base, packing up on."""

    break_minutes: float = 30.0
    break_after_minutes: float = 360.0
    longest_visit_minutes: float = 540.0
    load_out_minutes: float = 25.0
    pack_up_minutes: float = 10.0


@dataclass(frozen=True, kw_only=True)
class Extras:
    """Labour of turning a boat (20 minutes of two) and of shade cloths; hours a gelcoat fill is left, at 70 F.

    She is turned where there is room for so many of her lengths, and where it saves a day or so many minutes of
    waiting for shade.
    """

    cloths_minutes: float = 55.0
    turn_minutes: float = 40.0
    turning_room_factor: float = 1.6
    turning_worth_minutes: float = 45.0
    small_fill_ref_h: float = 1.0
    medium_fill_ref_h: float = 1.5
    large_fill_ref_h: float = 10.0


@dataclass(frozen=True, kw_only=True)
class Customers:
    """When customers may be written to, minutes of the day by their own clock, and what they are told.

    A warning of wet film has longer hours. Eight to half past eight is an assumption inside the usual eight to nine.
    """

    from_clock: float = 480.0
    until_clock: float = 1230.0
    wet_from_clock: float = 420.0
    wet_until_clock: float = 1260.0
    ahead_clock: float = 960.0
    eve_clock: float = 1020.0
    eve_wait_minutes: float = 120.0
    morning_clock: float = 480.0
    yearly_days: float = 365.0
    before_minutes: float = 15.0
    after_minutes: float = 45.0
    care_days: float = 14.0
    link_days: float = 60.0


@dataclass(frozen=True, kw_only=True)
class Supply:
    """How long a supplier takes, in working days, the hours to spare on top, until when it takes orders; assumptions."""

    lead_days: float = 2.0
    spare_hours: float = 12.0
    cutoff_clock: float = 720.0


_GROUPS: Mapping[str, Any] = {
    "labour": labour.Rates(),
    "coverage": film.Coverage(),
    "limits": Limits(),
    "planning": Planning(),
    "prices": Prices(),
    "day": Day(),
    "extras": Extras(),
    "travel": travel.Roads(),
    "customers": Customers(),
    "crew": Crew(),
    "board": Board(),
    "half_day": buffer.HalfDays(),
    "promises": Promises(),
    "supply": Supply(),
    "shifts": ShiftLimits(),
    "surface": air.SurfaceModel(),
    "strain": strain.Strain(),
    **FAMILIES,
}


@dataclass(frozen=True, kw_only=True)
class Rate:
    """One setting as it stands: its name, its default and the value in force."""

    name: str
    default: float
    value: float

    @property
    def changed(self) -> bool:
        """Whether it stands at something else than its default."""
        return self.value != self.default


def listed() -> tuple[Rate, ...]:
    """Every setting that is a number, by name."""
    over = _over()
    return tuple(
        Rate(name=name, default=default, value=over.get(name, default))
        for name, default in sorted(defaults().items())
    )


def labour_rates() -> labour.Rates:
    """The labour factors in force, with those of the shapes."""
    shapes = {**labour.Rates().shapes, **_of("shape")}
    return replace(labour.Rates(), shapes=shapes, **_of("labour"))


def coverage() -> film.Coverage:
    """The product rates in force."""
    return replace(film.Coverage(), **_of("coverage"))


def limits() -> Limits:
    """The weather limits in force where no product sheet says otherwise."""
    return replace(Limits(), **_of("limits"))


def surface_model() -> air.SurfaceModel:
    """How far a hull lies from the air where nobody has read it."""
    return replace(air.SurfaceModel(), **_of("surface"))


def strain_limits() -> strain.Strain:
    """From where on heat and cold ask for water, shade, rest and warmth."""
    return replace(strain.Strain(), **_of("strain"))


def waits() -> Mapping[str, float]:
    """The most minutes between visits that must follow soon, as ``spray-coat.port.mask``: port after mask."""
    return {**_waits(), **_of("waits")}


def learnt(kind: str, grade: int) -> float:
    """How many times the catalogue's minutes a kind of job takes at a grade, as the owner took it over."""
    return float(_of("learnt").get(f"{kind}.{grade}", 1.0))


def planning() -> Planning:
    """What leaving work out costs."""
    return replace(Planning(), **_of("planning"))


def day() -> Day:
    """What a working day may hold."""
    return replace(Day(), **_of("day"))


def shifts() -> ShiftLimits:
    """What a finished plan may ask of people; the break is the working day's own."""
    of_day = day()
    breaks = Breaks(
        minutes=of_day.break_minutes, after_minutes=of_day.break_after_minutes
    )
    return replace(ShiftLimits(), breaks=breaks, **_of("shifts"))


def extras() -> Extras:
    """What turning, cloths and fills take."""
    return replace(Extras(), **_of("extras"))


def customers() -> Customers:
    """When customers may be written to, and what they are told."""
    return replace(Customers(), **_of("customers"))


def crew() -> Crew:
    """What the crew is told by message."""
    return replace(Crew(), **_of("crew"))


def board() -> Board:
    """When the board calls something a snag."""
    return replace(Board(), **_of("board"))


def half_days() -> buffer.HalfDays:
    """What is left empty at the end of a week."""
    return replace(buffer.HalfDays(), **_of("half_day"))


def prices() -> Prices:
    """What a price is reckoned by beside the catalogue's dollars a foot."""
    return replace(Prices(), **_of("prices"))


def promises() -> Promises:
    """What is kept for the weather behind a planned finish."""
    return replace(Promises(), **_of("promises"))


def supply() -> Supply:
    """How long an order takes."""
    return replace(Supply(), **_of("supply"))


def roads() -> travel.Roads:
    """How roads compare with the great circle, where nobody has timed them."""
    return replace(travel.Roads(), **_of("travel"))


def water_l_per_ft() -> Mapping[str, float]:
    """Litres a foot by kind of job and visit, as ``spray-coat.prep``."""
    return {**_water(), **_of("water")}


def family(name: str) -> FamilyLimits | None:
    """The limits in force for one weather family; None for work the sky does not matter to."""
    return replace(FAMILIES[name], **_of(name)) if name in FAMILIES else None


def defaults() -> dict[str, float]:
    """The default of every setting that is a number."""
    plain = {
        f"{group}.{field.name}": float(value)
        for group, values in _GROUPS.items()
        for field in fields(values)
        if isinstance(value := getattr(values, field.name), int | float)
        and not isinstance(value, bool)
    }
    shapes = {f"shape.{name}": factor for name, factor in labour.Rates().shapes.items()}
    named = {f"water.{name}": litres for name, litres in _water().items()}
    named |= {f"waits.{name}": minutes for name, minutes in _waits().items()}
    named |= {f"learnt.{k}.{grade}": 1.0 for k in RECIPES for grade in range(1, 5)}
    return plain | shapes | named


def _water() -> dict[str, float]:
    return {
        f"{kind}.{recipe.visit}": recipe.water_l_per_ft
        for kind, recipes in RECIPES.items()
        for recipe in recipes
        if recipe.water_l_per_ft
    }


def _waits() -> dict[str, float]:
    afters = [
        (f"{kind}.{recipe.visit}", after)
        for kind, recipes in (*RECIPES.items(), ("spray-coat", (TURN,)))
        for recipe in recipes
        for after in recipe.after
    ]
    afters += [(f"spray-coat.{side}", AFTER_TURN) for side in SIDES]
    return {
        f"{name}.{after.visit}": float(after.max_minutes)
        for name, after in afters
        if after.max_minutes is not None
    }


def _over() -> dict[str, float]:
    return one_moment.once(
        "settings", lambda: dict(Setting.objects.values_list("name", "value"))
    )


def _of(group: str) -> dict[str, Any]:
    return {
        name.partition(".")[2]: value
        for name, value in _over().items()
        if name.startswith(f"{group}.")
    }
