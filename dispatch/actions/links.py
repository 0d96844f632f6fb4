"""What comes after what among a job's stages."""

from collections.abc import Mapping

from dispatch.actions import rates, visit_waits
from dispatch.actions.recipes import AFTER_TURN, After, Recipe
from dispatch.records.models import Sheet, Stage, StageLink


def make(made: list[tuple[Recipe, Stage]]) -> None:
    """Store what comes after what among a job's freshly made stages, each with its recipe."""
    StageLink.objects.bulk_create(drawn(made))


def drawn(made: list[tuple[Recipe, Stage]]) -> list[StageLink]:
    """What comes after what by the settings now, not stored."""
    waits, links = rates.waits(), []
    for recipe, stage in made:
        for after in _afters(recipe, stage):
            for other_recipe, other in made:
                same_way = (
                    not stage.variant
                    or not other.variant
                    or stage.variant == other.variant
                )
                if other_recipe.visit == after.visit and same_way:
                    most = waits.get(_name(recipe, stage, after))
                    links.append(_made_link(stage, other, after, most))
    return links


def _afters(recipe: Recipe, stage: Stage) -> tuple[After, ...]:
    """A side that is sprayed turned also waits for the turn."""
    if recipe.panels and stage.variant == "turned":
        return (*recipe.after, AFTER_TURN)
    return recipe.after


def _name(recipe: Recipe, stage: Stage, after: After) -> str:
    return f"{stage.job.kind.key}.{recipe.visit}.{after.visit}"


def _made_link(
    stage: Stage, before: Stage, after: After, most_minutes: float | None
) -> StageLink:
    sheet = before.sheet
    ref_h = _ref_h(sheet, after.set_to, before.job.repairs) if sheet else None
    return StageLink(
        stage=stage,
        before=before,
        min_minutes=visit_waits.left(before),
        min_ref_h=ref_h,
        cure_min_c=sheet.cure_min_c if sheet and ref_h else None,
        max_minutes=None if most_minutes is None else round(most_minutes),
    )


def _ref_h(sheet: Sheet, set_to: str, repairs: Mapping[str, int]) -> float | None:
    if set_to == "kicked":
        return fill_ref_h(repairs)
    if sheet.sandable_ref_h is None or not set_to:
        return None
    return sheet.sandable_ref_h + (
        sheet.refit_extra_ref_h if set_to == "refit" else 0.0
    )


def fill_ref_h(repairs: Mapping[str, int]) -> float:
    """Hours at 70 F that the largest of some fills is left before anything sands it."""
    size = next((size for size in ("L", "M", "S") if repairs.get(size)), "S")
    fills = rates.extras()
    return {
        "S": fills.small_fill_ref_h,
        "M": fills.medium_fill_ref_h,
        "L": fills.large_fill_ref_h,
    }[size]
