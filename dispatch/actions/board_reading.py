"""What every part of a board is read from: one plan, its week, and the rows it speaks of."""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from datetime import datetime, timedelta
from functools import cached_property
from itertools import groupby
from typing import Any

from django.db.models import Q

from dispatch.actions import clock, one_moment, timeline
from dispatch.actions.snapshot_stages import key
from dispatch.actions.timeline import Timeline
from dispatch.records.models import (
    Hold,
    Job,
    Outfit,
    Person,
    Place,
    Stage,
    WeekPlan,
)
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
    "laid",
    "followers__stage",
    "visit__van_day__team",
    "sheet",
)
# What a stage takes to do: slow to read for a week, and its name needs none of it.
_WORK = ("panels", "steps", "minutes", "needs", "gear", "supplies", "equipment")
# Where no forecast says when film is hard, it is no longer spoken of after so long.
LONGEST = timedelta(days=14)
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

    def stages_of(self, job: Job) -> tuple[Stage, ...]:
        """A job's stages, in order."""
        return self._by_job.get(job.pk, ())

    @cached_property
    def _by_job(self) -> Mapping[int, tuple[Stage, ...]]:
        rows = groupby(self.stages.values(), lambda stage: stage.job_id)
        return {job: tuple(stages) for job, stages in rows}

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


def names(plan: WeekPlan) -> Reading:
    """Read a plan's rows for what they are called; what they take, and what the sky and the rules say, is not read along."""
    return one_moment.once(("names", plan.pk), lambda: _read(plan, named=True))


def _read(plan: WeekPlan, *, named: bool = False) -> Reading:
    outfit = one_moment.outfit()
    places = Place.objects.prefetch_related(
        *(() if named else ("closures", "access_hours"))
    )
    by_pk = {place.pk: place for place in places}
    jobs = tuple(_jobs(plan, by_pk, named=named))
    return Reading(
        plan=plan,
        outfit=outfit,
        line=timeline.of(plan.week),
        now=clock.now(),
        words=Words(system=outfit.units),
        jobs=jobs,
        stages={key(stage): stage for stage in _stages(jobs, named=named)},
        people={person.key: person for person in Person.objects.all()},
        places={place.key: place for place in by_pk.values()},
    )


def _stages(jobs: Iterable[Job], *, named: bool) -> Iterator[Stage]:
    """Every stage of the jobs, in order; those of one job share it."""
    by_pk = {job.pk: job for job in jobs}
    rows = Stage.objects.filter(job__in=by_pk).order_by("job", "position")
    whole = rows.select_related("visit__van_day", "pin__van").prefetch_related(*_BESIDE)
    for stage in rows.defer(*_WORK) if named else whole:
        stage.job = by_pk[stage.job_id]
        yield stage


def _wet(plan: WeekPlan) -> list[int]:
    """Jobs with film laid before the week's end that has not set before its start, whatever is planned of them."""
    week = timeline.of(plan.week).horizon
    sets = Q(latest__gt=week.start) | Q(latest=None, end__gt=week.start)
    never = Q(latest=None, end=None, start__gt=week.start - LONGEST)
    laid = Hold.objects.filter(sets | never, planned=False, start__lt=week.end)
    return list(laid.values_list("stage__job", flat=True).distinct())


def _jobs(plan: WeekPlan, places: Mapping[int, Place], *, named: bool) -> Iterator[Job]:
    """The plan's jobs and those whose film is wet or setting then, in order; those that lie at one place share it."""
    known = [row["id"] for row in plan.problem.get("jobs", ())]
    wanted = Q(key__in=known) if known else Q(state__in=_IN_THE_BOOK)
    rows = Job.objects.filter(wanted | Q(pk__in=_wet(plan)))
    rows = rows.select_related("boat__customer")
    whole = rows.prefetch_related("kind", "sheet", "boat__readings")
    for job in (rows if named else whole).order_by("key"):
        job.boat.place = places[job.boat.place_id]
        yield job
