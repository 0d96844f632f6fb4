"""A report of a boat that the day's route is not at: asked about before it counts."""

from datetime import date

from dispatch.actions import history
from dispatch.actions.errors import Unsure
from dispatch.records.models import Boat, Outfit, Person, Stage, Visit
from dispatch.trade.words import Words


def check(stage: Stage, person: Person, day: date, *, sure: bool) -> None:
    """Ask whether a report is of the boat it names, where the van's next visit that day is to another; ``sure`` answers.

    What is under way or done is asked about no more: whoever started it said so. The history keeps the answer; in the
    caller's transaction.

    Raises:
        Unsure: it is another boat than the route is at, and nobody said that it is meant.
    """
    next_one = _next(stage, person, day)
    if next_one is None or next_one.stage.job.boat_id == stage.job.boat_id:
        return
    there = next_one.stage.job.boat
    if not sure:
        raise Unsure(
            f"Your route is at {_told(there)}. This report is of {_told(stage.job.boat)}. "
            "Which one are you at? Nothing is stored yet.",
            yes=f"Yes, I am at {stage.job.boat.name}",
        )
    history.write(
        "sure-of-boat",
        f"job {stage.job.key}",
        f"{person.name} is at {stage.job.boat.name}, not at {there.name}, where the route is.",
        by=getattr(person, "account", None),
        actor=person.name,
    )


def _next(stage: Stage, person: Person, day: date) -> Visit | None:
    """The first visit that is not done of the van that is to do a stage that day; None where it is not to be asked about."""
    visit = Visit.objects.filter(
        stage=stage, van_day__on=day, van_day__team=person
    ).first()
    if visit is None or stage.state != Stage.State.TO_DO:
        return None
    rows = visit.van_day.visits.exclude(stage__state=Stage.State.DONE)
    return rows.select_related("stage__job__boat__place").order_by("start").first()


def _told(boat: Boat) -> str:
    """A boat as she is told from the one beside her: how long, which colour, her number, where she lies."""
    words = Words(system=Outfit.objects.get().units)
    lies = f"{boat.place.name}, {boat.berth}" if boat.berth else boat.place.name
    number = f", {boat.registration}" if boat.registration else ""
    shape = boat.shape.replace("-", " ")
    return f"{boat.name} ({words.distance(boat.length_m)} {boat.hull_colour} {shape}{number}; {lies})"
