"""Which boats have a cover over their wet film, or one asked for."""

from collections.abc import Mapping

from dispatch.actions import one_moment
from dispatch.records.models import Cover, Job

_BESIDE = ("equipment", "job__boat__place", "asked_by__person")


def standing() -> Mapping[str, Cover]:
    """The covers that are asked for or on, by the job's key."""
    return one_moment.once("covers", _read)


def _read() -> Mapping[str, Cover]:
    rows = Cover.objects.filter(off_at=None).select_related(*_BESIDE)
    return {row.job.key: row for row in rows}


def of(job: Job) -> Cover | None:
    """The cover that is asked for or on over a job's boat, as it stands in the tables now."""
    return Cover.objects.filter(job=job, off_at=None).select_related(*_BESIDE).first()


def under(equipment: str) -> Cover | None:
    """The cover that a piece of equipment is, or is asked to be, by its key."""
    rows = Cover.objects.filter(equipment__key=equipment, off_at=None)
    return rows.select_related(*_BESIDE).first()


def is_on(job: str) -> bool:
    """Whether somebody said that a job's boat is covered."""
    cover = standing().get(job)
    return cover is not None and cover.on_at is not None


def name(cover: Cover) -> str:
    """What covers her."""
    return cover.equipment.name if cover.equipment else "what can be had"
