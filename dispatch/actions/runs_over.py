"""By how much work on a boat runs over on a day that runs over as one in five does."""

from collections.abc import Container, Iterable

from dispatch.actions import rates
from dispatch.records.models import Job


def late_factor(job: Job, known: Container[int]) -> float:
    """How many times their estimate four jobs in five keep to: less where the boat is known."""
    factors = rates.labour_rates()
    came = job.boat_id in known
    return factors.late_returning if came else factors.late_first


def came_before(jobs: Iterable[Job]) -> set[int]:
    """Boats of jobs, by their row, that were handed back before: the outfit knows how long they take."""
    boats = {job.boat_id for job in jobs}
    back = Job.objects.filter(boat__in=boats, state=Job.State.HANDED_BACK)
    return set(back.values_list("boat_id", flat=True))
