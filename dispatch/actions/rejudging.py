"""Have stages judged anew: what was judged before counts no more, and till then the sky is unknown."""

from collections.abc import Sequence

from dispatch.actions import due, visit_sky
from dispatch.records.models import Judged, Stage, Visit


def again(rows: Sequence[Stage], why: str) -> None:
    """Take what was judged of some stages for unknown, for a reason, and leave it to the worker to judge them."""
    fault = f"{why}, {visit_sky.BEING_JUDGED}"
    Judged.objects.filter(stage__in=rows, fault="").update(fault=fault)
    # What was told of other facts is gone by no more, even while its plugin rests.
    Judged.objects.filter(stage__in=rows).update(answered_at=None)
    # Without a line in the history: within a minute it is known again.
    Visit.objects.filter(stage__in=rows, sky_says=Visit.Sky.ALLOWS).update(
        sky_says=Visit.Sky.UNKNOWN, spoilt=f"{fault}."
    )
    for row in rows:
        due.put("judge-stage", str(row.pk))
