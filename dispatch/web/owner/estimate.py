"""A job's estimate for the owner: labour, product, price, and what the last like it took."""

from django.http import HttpRequest, HttpResponseBase
from django.shortcuts import get_object_or_404, render
from django.views.decorators.http import require_GET

from dispatch.actions import promise, show_estimate
from dispatch.actions.board_words import lasting
from dispatch.records.models import Job, Outfit
from dispatch.trade.words import Words
from dispatch.web.gate import owner_only


@require_GET
@owner_only
def show(request: HttpRequest, key: str) -> HttpResponseBase:
    """Show a job's estimate."""
    job = get_object_or_404(
        Job.objects.select_related("boat__place", "kind", "sheet"), key=key
    )
    found = show_estimate.of(job)
    words = Words(system=Outfit.objects.get().units)
    return render(
        request,
        "owner/estimate.html",
        {
            "job": job,
            "est": found,
            "begun": any(stage.really for stage in found.stages),
            "laid": found.product and any(any(c.used) for c in found.product.coats),
            "shape": job.boat.shape.replace("-", " "),
            "long": words.distance(job.boat.length_m),
            "likely": lasting(found.likely_minutes),
            "late": lasting(found.late_minutes),
            "learnt": lasting(found.likely_minutes * (found.ratio or 1)),
            "promise": promise.of(job),
            "repairs": ", ".join(f"{n} {size}" for size, n in job.repairs.items() if n),
        },
    )
