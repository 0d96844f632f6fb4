"""Who may not do a stage, and why: under 18, or without an air-fed hood whose fit test holds."""

from datetime import date

from dispatch.actions import fit_tests, hazards
from dispatch.records.models import Person, Sheet, Stage

_ADULT_YEARS = 18


def why(stage: Stage, person: Person, first: date, last: date) -> str:
    """Why somebody may not do a stage in a week of these days, in a sentence; empty where nothing is against it.

    Nobody's reason overrules it. An age that nobody entered counts as grown up, as the owner said so; a fit test without its day as none.
    """
    return _too_young(stage, person, first) or _hoodless(stage, person, last)


def years(person: Person, on: date) -> int | None:
    """How old somebody is on a date; None where nobody entered it."""
    born = person.born
    if born is None:
        return None
    return on.year - born.year - ((on.month, on.day) < (born.month, born.day))


def two_part(stage: Stage) -> bool:
    """Whether a stage sprays two-part, which wants air-fed hoods."""
    sheet = stage.sheet
    return (
        stage.family == "spray"
        and sheet is not None
        and sheet.kind == Sheet.Kind.TWO_PART
    )


def _too_young(stage: Stage, person: Person, first: date) -> str:
    old = years(person, first)
    sprays = stage.family == "spray"
    if (
        old is None
        or old >= _ADULT_YEARS
        or not (sprays or hazards.uses_solvent(stage))
    ):
        return ""
    what = "spraying" if sprays else "solvents and acids"
    return f"{person.name} is {old}: no {what} under 18, and {_of(stage)} has that."


def _hoodless(stage: Stage, person: Person, last: date) -> str:
    if not two_part(stage):
        return ""
    lacks = fit_tests.lacks(person, last)
    return f"{lacks}, and {_of(stage)} is two-part." if lacks else ""


def _of(stage: Stage) -> str:
    return f"“{stage.name}” on {stage.job.boat.name}"
