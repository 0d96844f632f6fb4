"""The ways a spray job may be done at its place: as she lies, turned, roofed, by the little gun."""

from dataclasses import dataclass

from dispatch.actions import place_rules, rates
from dispatch.actions.errors import Refused
from dispatch.records.models import Equipment, Job, Place, Sheet, Stage


@dataclass(frozen=True, kw_only=True)
class Way:
    """One way: its name, which way she heads, what covers her, what sprays her."""

    name: str
    heading_true_deg: float | None
    cover: str
    equipment: tuple[tuple[str, str], ...] = ()
    gear: tuple[str, ...] = ()
    turns: bool = False
    waste: float = 1.0


def allowed(place: Place, sheet: Sheet | None) -> None:
    """Check that the place lets this product be sprayed at all.

    Raises:
        Refused: its rules forbid it.
    """
    if place.spray_rule == Place.SprayRule.NONE or place.afloat:
        raise Refused(
            f"{place.name} allows no spraying. Move the boat, or choose work without a spray gun."
        )
    if near := place_rules.near_water(place):
        raise Refused(
            f"{near[:1].upper()}{near[1:]}. Move the boat, or choose work without a spray gun."
        )
    if sheet and sheet.kind == Sheet.Kind.TWO_PART and not place.two_part_allowed:
        raise Refused(
            f"{place.name} allows no two-part product, and {sheet.name} is one. Choose a one-part."
        )


def of(
    job: Job, heading_true_deg: float | None, electric_waste: float
) -> tuple[Way, ...]:
    """Every way this job may be sprayed, the plain one first.

    Raises:
        Refused: the outfit has nothing the place's rule asks for.
    """
    place = job.boat.place
    rig = Equipment.objects.filter(active=True, screens=True).first()
    roof = Equipment.objects.filter(active=True, roof=True).first()
    by_rig = ((rig.kind, "visit"),) if rig else ()
    cover = Stage.Cover.SCREENS if rig else Stage.Cover.OPEN
    under_roof = Way(
        name="roofed",
        heading_true_deg=heading_true_deg,
        cover=Stage.Cover.ROOF,
        equipment=(*by_rig, (roof.kind, "rain-safe")) if roof else (),
    )
    if place.spray_rule == Place.SprayRule.ROOF:
        _has(
            roof,
            f"{place.name} allows spraying under a roof only, and the outfit has none.",
        )
        return (under_roof,)
    if place.spray_rule == Place.SprayRule.SCREENS:
        _has(
            rig,
            f"{place.name} allows spraying behind side-screens only, and the outfit has none.",
        )
    plain = Way(
        name="as-she-lies",
        heading_true_deg=heading_true_deg,
        cover=cover,
        equipment=by_rig,
    )
    turned = Way(
        name="turned",
        # Where the owner gave none, the best one is worked out once her stages are made.
        heading_true_deg=job.boat.turned_heading_deg,
        cover=cover,
        equipment=by_rig,
        turns=True,
    )
    little = Way(
        name="little-gun",
        heading_true_deg=heading_true_deg,
        cover=Stage.Cover.OPEN,
        gear=("little-gun",),
        waste=electric_waste,
    )
    return (
        plain,
        *((turned,) if _turnable(job) else ()),
        *((under_roof,) if roof else ()),
        *(
            (little,)
            if rig and place.spray_rule == Place.SprayRule.OPEN and _one_part(job)
            else ()
        ),
    )


def _has(equipment: Equipment | None, sentence: str) -> None:
    if equipment is None:
        raise Refused(sentence)


def _one_part(job: Job) -> bool:
    return job.sheet is not None and job.sheet.kind == Sheet.Kind.ONE_PART


def _turnable(job: Job) -> bool:
    boat = job.boat
    room = boat.place.swing_room_m
    roomy = (
        room is not None and room >= rates.extras().turning_room_factor * boat.length_m
    )
    return boat.on_trailer and roomy
