"""A large made-up week as the rows of an outfit, with its plan standing as a draft."""

from datetime import UTC, datetime, time
from typing import Any

from dispatch.actions import timeline
from dispatch.records.models import (
    Boat,
    Customer,
    Job,
    JobKind,
    Person,
    Place,
    Skill,
    Stage,
    Van,
    Week,
    WeekPlan,
)
from tests.actions import plans
from tests.trade.lanternglass import ZONE

Row = dict[str, Any]
ASKED = datetime(2026, 5, 23, 22, tzinfo=UTC)


def stand(problem: Row, plan: Row) -> WeekPlan:
    """Store the people, vans, places, boats and stages of a week problem, and a draft of its plan."""
    places = {row["id"]: _place(row) for row in problem["places"]}
    _crew(problem, places)
    stages = {row["id"]: row for row in problem["stages"]}
    for job in problem["jobs"]:
        own = [row for row in stages.values() if row["job"] == job["id"]]
        _job(job, own, places)
    week = Week.objects.create(starts_on=plans.MONDAY)
    zero = timeline.of(week).zero
    return WeekPlan.objects.create(
        week=week,
        state=WeekPlan.State.DRAFT,
        asked_at=ASKED,
        built_at=ASKED,
        zero_at=zero,
        problem=problem,
        plan=plan,
    )


def _place(row: Row) -> Place:
    return Place.objects.create(
        key=row["id"].lower(),
        name=f"Landing {row['id']}",
        latitude=row["lat"],
        longitude=row["lon"],
        time_zone=ZONE,
    )


def _crew(problem: Row, places: dict[str, Place]) -> None:
    for row in problem["people"]:
        made = Person.objects.create(
            key=row["id"],
            name=f"Hand {row['id']}",
            initials=row["id"][-2:],
            drives=row["driver"],
        )
        for name, level in row["skills"].items():
            Skill.objects.create(person=made, name=name, level=level)
    for row in problem["vans"]:
        Van.objects.create(
            key=row["id"],
            name=f"Van {row['id']}",
            base=places[row["base"]],
            seats=row["seats"],
            gear=row["gear"],
            duty_start=time(6),
            duty_end=time(19),
        )


def _job(row: Row, own: list[Row], places: dict[str, Place]) -> None:
    boat = Boat.objects.create(
        key=row["boat"],
        name=f"Hull {row['boat']}",
        customer=Customer.objects.create(
            name=f"Owner of {row['boat']}", time_zone=ZONE
        ),
        length_m=6.5,
        place=places[own[0]["place"]],
        heading_deg=40,
    )
    job = Job.objects.create(
        key=row["id"],
        boat=boat,
        kind=JobKind.objects.get(key="wash"),
        unfinished_cents=row["unfinished_cents"],
        state="agreed",
        taken_at=ASKED,
    )
    for position, stage in enumerate(own):
        Stage.objects.create(
            job=job,
            key=stage["id"].partition(".")[2],
            name=stage["id"].partition(".")[2].capitalize(),
            position=position,
            variant=stage["variant"] or "",
            family="any",
            minutes=stage["minutes"],
            needs=stage["needs"],
            gear=stage["gear"],
        )
