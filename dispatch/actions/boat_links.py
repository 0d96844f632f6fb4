"""The link to each boat's page, with words that may be sent to her customer."""

from dataclasses import dataclass

from dispatch.actions import access, show_boat
from dispatch.actions.errors import Stranger
from dispatch.records.models import Job


@dataclass(frozen=True, kw_only=True)
class BoatLink:
    """One job's link: ``address`` whole, ``path`` within this house, ``message`` to be sent."""

    job: str
    boat: str
    kind: str
    customer: str
    phone: str
    address: str
    path: str
    message: str


def all_open() -> list[BoatLink]:
    """Every boat whose link opens her page now, by her name."""
    jobs = Job.objects.exclude(state=Job.State.CALLED_OFF)
    rows = jobs.select_related("boat__customer", "kind").order_by("boat__name", "key")
    return [of(job) for job in rows if _opens(job)]


def of(job: Job) -> BoatLink:
    """The link of one job."""
    boat, address = job.boat, show_boat.link(job)
    return BoatLink(
        job=job.key,
        boat=boat.name,
        kind=job.kind.name,
        customer=boat.customer.name,
        phone=boat.customer.phone,
        address=address,
        path=f"/boat/{access.boat_link(job)}/",
        message=f"{boat.name}: where she stands and what comes next, at any time: {address}",
    )


def _opens(job: Job) -> bool:
    try:
        access.job_of_link(access.boat_link(job))
    except Stranger:
        return False
    return True
