"""From a job to its stages: the catalogue's rows, made into visits that one team does."""

from collections.abc import Mapping
from dataclasses import dataclass

from dispatch.actions import links, rates, recipes, visit_waits, ways
from dispatch.actions.errors import Refused
from dispatch.actions.recipes import TURN, Recipe
from dispatch.actions.ways import Way
from dispatch.records.models import CatalogueRow, Job, Sheet, Stage
from dispatch.trade import film, labour, limits, repairs, shade, units

_SHADE_CLOTHS = "Rig shade cloths at transom and rail"
_PLAIN = Way(name="", heading_true_deg=None, cover=Stage.Cover.OPEN)


@dataclass(frozen=True, kw_only=True)
class Making:
    """What every visit of one job is made from."""

    job: Job
    factor: float
    length_ft: float
    labour: labour.Rates
    learnt: float
    coverage: film.Coverage
    rows: Mapping[str, tuple[CatalogueRow, ...]]
    gelcoat: Sheet | None
    extras: rates.Extras
    water_l_per_ft: Mapping[str, float]
    longest_minutes: float


def make(job: Job) -> tuple[Stage, ...]:
    """Make a job's stages and their order, in the caller's transaction.

    Raises:
        Refused: the place forbids the work, the heading is unusable, or no team could do a visit in a day.
    """
    made = drawn(job)
    for _, stage in made:
        stage.save()
    links.make(made)
    return tuple(stage for _, stage in made)


def drawn(job: Job) -> list[tuple[Recipe, Stage]]:
    """A job's stages by the catalogue and the settings now, each with its recipe; not stored.

    Raises:
        Refused: what ``make`` refuses.
    """
    making = making_of(job)
    wanted = recipes.of(
        job.kind.key, fills_first=_fills_first(job), sides_only=job.sides_only
    )
    made: list[tuple[Recipe, Stage]] = []
    for recipe, way in _each(job, wanted, making):
        made.append((recipe, _stage(making, recipe, way, len(made) + 1)))
    return made


def true_heading(job: Job) -> float | None:
    """The boat's true heading in degrees, from however it was read.

    Raises:
        Refused: it was read by compass where the place's declination is not known.
    """
    boat = job.boat
    if boat.heading_deg is None or boat.heading_reference == boat.HeadingReference.TRUE:
        return boat.heading_deg
    if boat.place.declination_deg is None:
        raise Refused(
            f"The heading of {boat.name} was read by compass, and {boat.place.name} has no declination. Enter it first."
        )
    return shade.true_heading(boat.heading_deg, boat.place.declination_deg, "magnetic")


def making_of(job: Job) -> Making:
    """What a job's visits are made from, by the catalogue and the settings now.

    Raises:
        Refused: nothing is known of her shape.
    """
    boat, factors = job.boat, rates.labour_rates()
    feet = units.m_to_ft(boat.length_m)
    if boat.shape not in factors.shapes:
        raise Refused(
            f"{boat.name}: no labour factor for the shape {boat.shape}. Use one of {', '.join(factors.shapes)}."
        )
    place = boat.place
    access = labour.access_factor(
        water=place.water, power=place.power, afloat=place.afloat, rates=factors
    )
    rows: dict[str, list[CatalogueRow]] = {}
    for row in job.kind.rows.order_by("position"):
        fill = row.family == "gelcoat" and _fills_first(job)
        rows.setdefault(recipes.FILL.visit if fill else row.visit, []).append(row)
    return Making(
        job=job,
        factor=labour.length_factor(feet, factors)
        * factors.shapes[boat.shape]
        * access,
        length_ft=feet,
        labour=factors,
        learnt=rates.learnt(job.kind.key, job.grade),
        coverage=rates.coverage(),
        rows={visit: tuple(found) for visit, found in rows.items()},
        gelcoat=Sheet.objects.filter(kind=Sheet.Kind.GELCOAT).first(),
        extras=rates.extras(),
        water_l_per_ft=rates.water_l_per_ft(),
        longest_minutes=rates.day().longest_visit_minutes,
    )


def _fills_first(job: Job) -> bool:
    """Whether a boat that is to be sprayed has repairs that want a visit of their own."""
    return job.kind.sprays and repairs.own_visit(job.repairs)


def _each(
    job: Job, wanted: tuple[Recipe, ...], making: Making
) -> list[tuple[Recipe, Way]]:
    """Every visit in order, once for each way where ways differ."""
    if not job.kind.sprays:
        return [(recipe, _PLAIN) for recipe in wanted]
    ways.allowed(job.boat.place, job.sheet)
    found = ways.of(job, true_heading(job), making.coverage.electric_waste)
    only = len(found) == 1
    out: list[tuple[Recipe, Way]] = []
    for recipe in wanted:
        out += [(recipe, way) for way in found] if recipe.sprays else [(recipe, _PLAIN)]
    if only:
        return out
    return [*out, *((TURN, way) for way in found if way.turns)]


def _steps(making: Making, recipe: Recipe, way: Way) -> list[tuple[str, labour.Step]]:
    steps = [
        (row.name, step_of(making, row)) for row in making.rows.get(recipe.visit, ())
    ]
    if recipe.visit == "turn":
        turn = making.extras.turn_minutes
        steps.append(
            (TURN.name, labour.Step(labour_minutes=turn, crew_min=2, crew_max=2))
        )
    if recipe.visit == "ends" and way.cover != Stage.Cover.ROOF:
        cloths = making.extras.cloths_minutes
        steps.insert(0, (_SHADE_CLOTHS, labour.Step(labour_minutes=cloths, crew_max=2)))
    return [
        (name, step)
        for name, step in steps
        if step.labour_minutes or step.clock_minutes
    ]


def step_of(making: Making, row: CatalogueRow) -> labour.Step:
    """One row of the catalogue as the labour it is on this boat."""
    job = making.job
    per_ft = (row.per_ft_1, row.per_ft_2, row.per_ft_3, row.per_ft_4)[job.grade - 1]
    minutes = labour.labour_minutes(
        fixed=row.fixed_minutes,
        per_ft=per_ft,
        length_ft=making.length_ft,
        factor=making.factor,
    )
    minutes += sum(
        row.per_repair.get(size, 0) * count for size, count in job.repairs.items()
    )
    minutes += row.per_panel * job.panels
    return labour.Step(
        labour_minutes=minutes * row.share * making.learnt,
        crew_min=row.crew_min,
        crew_max=row.crew_max,
        clock_minutes=row.clock_minutes,
        hold_minutes=row.hold_minutes,
        hold_ref_minutes=links.fill_ref_h(job.repairs) * 60
        if row.family == "gelcoat"
        else 0.0,
        meanwhile=row.meanwhile,
    )


def minutes_by_team(
    making: Making, name: str, steps: list[labour.Step]
) -> dict[str, int]:
    """Minutes by team size, rounded up to 5, of every team that gets done in a day.

    Raises:
        Refused: no team does.
    """
    smallest = max((step.crew_min for step in steps), default=1)
    largest = max((step.crew_max for step in steps), default=smallest)
    table = {}
    for team in range(smallest, max(smallest, largest) + 1):
        minutes = labour.clock_minutes(tuple(steps), team, making.labour)
        table[str(team)] = max(5, int(-(-round(minutes, 6) // 5) * 5))
    longest = making.longest_minutes
    kept = {team: minutes for team, minutes in table.items() if minutes <= longest}
    if not kept:
        raise Refused(
            f"{making.job.boat.name}, {name}: {min(table.values())} minutes even with {largest} people, "
            f"more than the {longest:g} of a day. Split the visit in the catalogue."
        )
    return kept


def _works(making: Making, row: CatalogueRow) -> bool:
    step = step_of(making, row)
    return bool(step.labour_minutes or step.clock_minutes)


def _needs(making: Making, recipe: Recipe) -> list[dict[str, object]]:
    """Skills by step; a sprayed visit also needs a gun hand and, for two-part, hoods for both."""
    if not recipe.sprays:
        skills = {
            row.skill
            for row in making.rows.get(recipe.visit, ())
            if row.skill and _works(making, row)
        }
        return [{"skill": skill, "level": 1, "count": 1} for skill in sorted(skills)]
    two_part = (
        making.job.sheet is not None and making.job.sheet.kind == Sheet.Kind.TWO_PART
    )
    gun: list[dict[str, object]] = [
        {"skill": "spray-2" if two_part else "spray-1", "level": 1, "count": 1}
    ]
    hoods: list[dict[str, object]] = (
        [{"skill": "hood", "level": 1, "count": 2}] if two_part else []
    )
    return [*gun, {"skill": "hose", "level": 1, "count": 2}, *hoods]


def _product_ml(making: Making, recipe: Recipe, way: Way) -> float:
    if not recipe.sprays:
        return 0.0
    hull = film.Topsides(
        length_m=making.job.boat.length_m, freeboard_m=making.job.boat.freeboard_m
    )
    area = film.side_m2(hull) if recipe.panels else film.transom_m2(hull)
    return film.product_ml(area, coats=2, waste=way.waste, coverage=making.coverage)


def _stage(making: Making, recipe: Recipe, way: Way, position: int) -> Stage:
    job = making.job
    named, by = _steps(making, recipe, way), {"learnt": making.learnt}
    rows = making.rows.get(recipe.visit, ())
    families = [row.family for row in rows if _works(making, row)]
    sheet = {"sheet": job.sheet, "gelcoat": making.gelcoat}.get(recipe.lays)
    variant = (
        way.name
        if recipe.sprays and len(ways_of(job, making)) > 1
        else (way.name if recipe.visit == "turn" else "")
    )
    return Stage(
        job=job,
        key=f"{recipe.visit}-{variant}" if variant else recipe.visit,
        name=recipe.name,
        position=position,
        variant=variant,
        extra=recipe.extra,
        family=limits.strictest(families, sprays=recipe.sprays),
        panels=list(recipe.panels) if way.cover != Stage.Cover.ROOF else [],
        cover=way.cover,
        heading_true_deg=way.heading_true_deg,
        steps=[
            {"name": name, "labour_minutes": round(step.labour_minutes, 1)}
            | by
            | visit_waits.kept(step)
            for name, step in named
        ],
        minutes=minutes_by_team(making, recipe.name, [step for _, step in named]),
        flashes=recipe.flashes,
        needs=_needs(making, recipe),
        gear=[*recipe.gear, *way.gear],
        supplies=_supplies(making, recipe),
        equipment=[{"kind": kind, "until": until} for kind, until in way.equipment]
        if recipe.sprays
        else [],
        sheet=sheet,
        product_ml=_product_ml(making, recipe, way),
        pausable=recipe.pausable,
        fixed_start=job.fixed_start if recipe.visit == "slings" else None,
    )


def _supplies(making: Making, recipe: Recipe) -> dict[str, int]:
    """Water to bring where the place has no tap."""
    name = f"{making.job.kind.key}.{recipe.visit}"
    litres = round(making.water_l_per_ft.get(name, 0) * making.length_ft)
    return {"water_l": litres} if litres and not making.job.boat.place.water else {}


def ways_of(job: Job, making: Making) -> tuple[Way, ...]:
    """The ways of a spray job, as they were when its visits were listed."""
    return ways.of(job, true_heading(job), making.coverage.electric_waste)
