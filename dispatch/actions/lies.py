"""A boat lies elsewhere or otherwise than she did: what hangs on that is judged and reckoned anew, however it was told."""

from dispatch.actions import due, facts, rejudging
from dispatch.records.models import Boat


def anew(boat: Boat, why: str) -> None:
    """Have her open stages judged anew, her film reckoned by the sky there, and her labour by the place; in the caller's transaction."""
    rows = list(facts.open_stages().filter(job__boat=boat))
    rejudging.again(rows, why.rstrip("."))
    due.put("take-in-forecast", boat.place.key)
    due.put("reckon-film", boat.place.key)
    for job in {row.job.key for row in rows}:
        due.put("refigure-job", job)
