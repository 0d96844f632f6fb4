"""What every part of a board is read from: one plan, its week, and the rows it speaks of."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from dispatch.actions import clock, one_moment, timeline
from dispatch.actions.snapshot_stages import key
from dispatch.actions.timeline import Timeline
from dispatch.records.models import Job, Outfit, Person, Place, Stage, WeekPlan
from dispatch.trade.spans import Span
from dispatch.trade.words import Words

Row = Mapping[str, Any]
# What the sky and the rules say of each stage is read for all of them at once.
_BESIDE = (
    "judged",
    "vetoes",
    "overrides",
    "links__before",
    "holds",
    "followers__stage",
    "visit__van_day__team",
    "job__boat__readings",
    "job__boat__place__closures",
    "job__boat__place__access_hours",
)
_IN_THE_BOOK = ("agreed", "in-hand")


@dataclass(frozen=True, kw_only=True)
class Reading:
    """One plan with the rows it names; ``stages`` by their name in the week problem."""

    plan: WeekPlan
    outfit: Outfit
    line: Timeline
    now: datetime
    words: Words
    jobs: tuple[Job, ...]
    stages: Mapping[str, Stage]
    people: Mapping[str, Person]
    places: Mapping[str, Place]

    @property
    def problem(self) -> Row:
        """The week problem the plan was built on; empty while it is being built."""
        found: Row = self.plan.problem
        return found

    @property
    def answer(self) -> Row:
        """The plan as the planner gave it; empty while it is being built."""
        found: Row = self.plan.plan
        return found

    @property
    def horizon(self) -> Span:
        """The week as moments."""
        return self.line.horizon

    @property
    def van_days(self) -> list[Row]:
        """The plan's van-days."""
        return list(self.answer.get("van_days", ()))

    def span(self, start: int, end: int) -> Span:
        """Two minutes of the plan as a span."""
        return Span(self.line.moment(start), self.line.moment(end))

    def name(self, person: str) -> str:
        """A person's name; the key of one who has been deleted."""
        return self.people[person].name if person in self.people else person

    def initials(self, person: str) -> str:
        """A person's initials, for a strip."""
        return self.people[person].initials if person in self.people else person[:2]

    def place(self, place: str) -> str:
        """A place's name."""
        return self.places[place].name if place in self.places else place

    def stage_name(self, stage: str) -> str:
        """A stage's name as people say it."""
        return self.stages[stage].name if stage in self.stages else stage


def read(plan: WeekPlan) -> Reading:
    """Read a plan's rows: its jobs as the plan has them, or as they stand in the book before it has any."""
    return one_moment.once(("reading", plan.pk), lambda: _read(plan))


def _read(plan: WeekPlan) -> Reading:
    outfit = Outfit.objects.get()
    jobs = tuple(_jobs(plan))
    stages = (
        Stage.objects.filter(job__in=jobs)
        .select_related(
            "job__boat__place",
            "job__boat__customer",
            "job__kind",
            "sheet",
            "visit__van_day",
            "pin__van",
        )
        .prefetch_related(*_BESIDE)
    )
    return Reading(
        plan=plan,
        outfit=outfit,
        line=timeline.of(plan.week),
        now=clock.now(),
        words=Words(system=outfit.units),
        jobs=jobs,
        stages={key(stage): stage for stage in stages.order_by("job", "position")},
        people={person.key: person for person in Person.objects.all()},
        places={place.key: place for place in Place.objects.all()},
    )


def _jobs(plan: WeekPlan) -> list[Job]:
    known = [row["id"] for row in plan.problem.get("jobs", ())]
    rows = (
        Job.objects.select_related("boat__place", "boat__customer", "kind", "sheet")
        .prefetch_related("boat__place__closures")
        .order_by("key")
    )
    if known:
        return list(rows.filter(key__in=known))
    return list(rows.filter(state__in=_IN_THE_BOOK))
