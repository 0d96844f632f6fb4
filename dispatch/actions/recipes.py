"""What each visit of each kind of job needs beside its labour: the shape of the work, not its rates."""

from collections.abc import Mapping
from dataclasses import dataclass, replace


@dataclass(frozen=True, kw_only=True)
class After:
    """A visit comes after another one: at once, or when its film, fill or coat has set."""

    visit: str
    set_to: str = ""  # "", "sandable", "refit" or "kicked"
    max_minutes: int | None = None


@dataclass(frozen=True, kw_only=True)
class Recipe:
    """One visit of a kind of job."""

    visit: str
    name: str
    after: tuple[After, ...] = ()
    panels: tuple[str, ...] = ()
    sprays: bool = False
    flashes: int = 0
    pausable: bool = True
    extra: bool = False
    gear: tuple[str, ...] = ()
    water_l_per_ft: float = 0.0
    lays: str = ""  # what product it lays: "", "sheet" or "gelcoat"


SIDES = ("port", "starboard")
_FILM = tuple(After(visit=side, set_to="sandable") for side in (*SIDES, "ends"))

AFTER_TURN = After(visit="turn", max_minutes=480)
TURN = Recipe(
    visit="turn",
    name="Turn her on the trailer",
    after=(After(visit="mask", max_minutes=480),),
)

# Repairs that are too many, or kick too long, to be filled on the day of the preparation.
FILL = Recipe(visit="fill", name="Fill gelcoat repairs", pausable=False, lays="gelcoat")

RECIPES: Mapping[str, tuple[Recipe, ...]] = {
    "spray-coat": (
        Recipe(
            visit="prep",
            name="Wash, strip, deoxidise, scuff",
            gear=("washer",),
            water_l_per_ft=8,
        ),
        Recipe(visit="mask", name="Mask and drape", after=(After(visit="prep"),)),
        *(
            Recipe(
                visit=side,
                name=f"Spray {side}, two coats",
                after=(After(visit="mask", max_minutes=480),),
                panels=(side,),
                sprays=True,
                flashes=1,
                pausable=False,
                lays="sheet",
            )
            for side in SIDES
        ),
        Recipe(
            visit="ends",
            name="Spray transom and rail, two coats; unmask",
            after=tuple(After(visit=side, max_minutes=480) for side in SIDES),
            sprays=True,
            flashes=1,
            pausable=False,
            lays="sheet",
        ),
        Recipe(
            visit="inside",
            name="Interior and stainless",
            after=(After(visit="prep"),),
            water_l_per_ft=2,
        ),
        Recipe(
            visit="finish",
            name="Wet-sand, polish, hand back",
            after=_FILM,
            gear=("polisher",),
        ),
        Recipe(
            visit="letters",
            name="Refit numbers and decals",
            after=tuple(After(visit=side, set_to="refit") for side in (*SIDES, "ends")),
            extra=True,
        ),
    ),
    "oxidation": (
        Recipe(
            visit="clean", name="Wash and deoxidise", gear=("washer",), water_l_per_ft=8
        ),
        Recipe(
            visit="cut",
            name="Compound",
            after=(After(visit="clean", max_minutes=4320),),
            gear=("polisher",),
        ),
        Recipe(
            visit="seal",
            name="Polish and seal, hand back",
            after=(After(visit="cut", max_minutes=2880),),
            gear=("polisher",),
            lays="sheet",
        ),
    ),
    "gelcoat-repair": (
        Recipe(visit="fill", name="Grind and fill", pausable=False, lays="gelcoat"),
        Recipe(
            visit="fair",
            name="Sand, polish, check the colour",
            after=(After(visit="fill", set_to="kicked"),),
            gear=("polisher",),
        ),
    ),
    "interior": (
        Recipe(visit="clear", name="Clear out, vacuum, wash", water_l_per_ft=3),
        Recipe(
            visit="protect",
            name="Stainless, protect, hand back",
            after=(After(visit="clear"),),
        ),
    ),
    "bottom-wash": (
        Recipe(
            visit="slings",
            name="Pressure wash in the slings",
            gear=("washer",),
            pausable=False,
        ),
        Recipe(
            visit="pad",
            name="Scrape and clean on the pad",
            after=(After(visit="slings"),),
        ),
    ),
    "decals": (Recipe(visit="letters", name="Change decals and numbers"),),
    "wash": (
        Recipe(
            visit="wash", name="Maintenance wash", gear=("washer",), water_l_per_ft=6
        ),
    ),
    "slip-topsides": (
        Recipe(
            visit="near-cut", name="Near side: wash and compound", gear=("polisher",)
        ),
        Recipe(
            visit="near-seal",
            name="Near side: polish and seal",
            after=(After(visit="near-cut"),),
            gear=("polisher",),
            lays="sheet",
        ),
        Recipe(
            visit="far-cut",
            name="Turned end for end, far side: wash and compound",
            after=(After(visit="near-seal"),),
            gear=("polisher",),
        ),
        Recipe(
            visit="far-seal",
            name="Far side: polish and seal, hand back",
            after=(After(visit="far-cut"),),
            gear=("polisher",),
            lays="sheet",
        ),
    ),
    "correction": (
        Recipe(visit="correct", name="Put panels right", gear=("polisher",)),
    ),
}


def of(kind: str, *, fills_first: bool, sides_only: bool) -> tuple[Recipe, ...]:
    """The visits of a kind of job; ``fills_first``: repairs are filled, and set, before the preparation."""
    wanted = [one for one in RECIPES[kind] if not (sides_only and one.visit == "ends")]
    if not fills_first:
        return tuple(wanted)
    after = (After(visit=FILL.visit, set_to="kicked"),)
    return (
        FILL,
        *(replace(one, after=after) if one.visit == "prep" else one for one in wanted),
    )
