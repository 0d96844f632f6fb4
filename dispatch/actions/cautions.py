"""The usual cautions of a day's work; the product's sheet, the place's rules and local rules decide."""

from collections.abc import Iterator, Sequence

from dispatch.actions import rates, strain_cautions
from dispatch.actions.load_list import weight
from dispatch.records.models import Sheet, Tow, Visit
from dispatch.trade.words import Words

_LAST = (
    "GO says that no limit we know of is broken. It does not say that the work is safe. Anybody may say no and call the owner.",
    "Where a sheet, the yard or local rules ask for more, or for licensed practice, they decide.",
)


def of(visits: Sequence[Visit], tows: Sequence[Tow], words: Words) -> tuple[str, ...]:
    """What a van's people are to keep in mind on a day, the most dangerous first."""
    return (
        *_products(visits, words),
        *_spraying(visits),
        *_open_water(visits, words),
        *_solvents(visits),
        *_dust(visits),
        *_hull_number(visits),
        *_towing(tows, words),
        *_electricity(visits),
        *strain_cautions.of(visits, words),
        *_LAST,
    )


def _products(visits: Sequence[Visit], words: Words) -> Iterator[str]:
    """The words of each sheet; a sheet that says nothing is not taken as harmless."""
    sheets = dict.fromkeys(
        visit.stage.sheet for visit in visits if visit.stage.sheet is not None
    )
    for sheet in sorted(sheets, key=lambda one: one.kind != Sheet.Kind.TWO_PART):
        said = (
            sheet.people
            or "nothing is entered of what to wear. Read the maker's sheet before you open it"
        )
        yield f"{sheet.name}: {said.rstrip('.')}.{_kept_off(sheet, words)}"


def _kept_off(sheet: Sheet, words: Words) -> str:
    """How far others keep from two-part, and for how long after; the sheet may ask for more."""
    if sheet.kind != Sheet.Kind.TWO_PART:
        return ""
    limits = rates.shifts()
    return (
        f" Nobody without a hood within {words.distance(limits.bystander_m)} while it is laid, "
        f"nor for {limits.reentry_minutes:.0f} min after; further where the sheet says so."
    )


def _spraying(visits: Sequence[Visit]) -> Iterator[str]:
    if any(visit.stage.family == "spray" for visit in visits):
        yield "Spraying: two people at least, nobody else near, neighbours sheeted first, no flame or spark. Stop when the wind or the shade changes."


def _open_water(visits: Sequence[Visit], words: Words) -> Iterator[str]:
    """Places where something is sprayed and nobody entered how far open water lies."""
    sprayed = (visit.stage for visit in visits if visit.stage.family == "spray")
    for place in dict.fromkeys(stage.job.boat.place for stage in sprayed):
        if place.water_off_m is None:
            clear = words.distance(rates.limits().water_clear_m)
            yield f"{place.name}: nobody entered how far open water lies. Spray nothing within {clear} of it; call the owner."


def _solvents(visits: Sequence[Visit]) -> Iterator[str]:
    if any(visit.stage.family not in ("any", "inside") for visit in visits):
        yield "Solvents, acids and cleaners: gloves, eyes covered, air moving, away from flame. Used rags in a lidded metal can. Nothing runs to a drain, a well or the water."


def _dust(visits: Sequence[Visit]) -> Iterator[str]:
    if _has(visits, "sand", "grind", "scuff"):
        yield "Dust: mask on, vacuum on the sander, tarps down. The old coating may be poisonous; if nobody knows what it is, ask before you sand."


def _has(visits: Sequence[Visit], *words: str) -> bool:
    """Whether any step's name holds one of some words."""
    names = (step["name"].lower() for visit in visits for step in visit.stage.steps)
    return any(word in name for name in names for word in words)


def _hull_number(visits: Sequence[Visit]) -> Iterator[str]:
    """It may not be taken off or hidden: 33 CFR 181.29; that it stands at the transom is from memory."""
    if _has(visits, "mask", "sand", "grind", "scuff", "transom"):
        yield "Her hull identification number, at the transom: mask it, never sand it off, coat it over or move its plate."


def _towing(tows: Sequence[Tow], words: Words) -> Iterator[str]:
    # Twice along a day is said once.
    for moved in dict.fromkeys(tow.equipment for tow in tows):
        if moved.towed:
            yield f"Towing {moved.name}, {weight(moved.weight_kg, words)}: rated van, right ball, pin, chains, lights, tyres, load tied. Only a driver who may tow it by law."


def _electricity(visits: Sequence[Visit]) -> Iterator[str]:
    if any(visit.stage.gear or visit.stage.family == "spray" for visit in visits):
        yield "Electricity near water: through a ground-fault breaker, leads dry and whole. A generator stands outside, downwind of people: its exhaust kills."
