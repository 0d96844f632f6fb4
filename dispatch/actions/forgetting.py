"""Rows that hold no history and that nobody asks after any more: forgotten by their age."""

from datetime import timedelta

from django.db.models import Exists, F, OuterRef, Q, QuerySet, Subquery
from django.utils import timezone

from dispatch.actions import clock
from dispatch.records.models import CrewReport, DueWork, Forecast, Post

# Well over the week in which a phone may still send what it stored, and a service a post; and over the days for which
# film is reckoned by the forecasts there were since it was laid.
KEPT = timedelta(days=30)


def old() -> int:
    """Forget what is older than is kept; return how many rows.

    Posts that were read, the words by which a phone's report is taken once, forecasts that newer ones followed, and
    slow work that is done. Work that was given up stays till the same is done: the owner is shown that it was not.
    """
    by_machine = timezone.now() - KEPT
    rows = (
        Post.objects.filter(heard_at__lt=by_machine),
        CrewReport.objects.filter(came_at__lt=clock.now() - KEPT),
        _done().filter(done_at__lt=by_machine),
        _followed().filter(issued_at__lt=clock.now() - KEPT),
    )
    return sum(one.delete()[0] for one in rows)


def _followed() -> QuerySet[Forecast]:
    """Every forecast but a place's newest, which tells how old the sky is known to be."""
    newest = Forecast.objects.filter(place=OuterRef("place")).order_by("-issued_at")
    return Forecast.objects.alias(
        newest=Subquery(newest.values("issued_at")[:1])
    ).filter(issued_at__lt=F("newest"))


def _done() -> QuerySet[DueWork]:
    """Slow work that was done, and what was given up but done since."""
    since = DueWork.objects.filter(
        verb=OuterRef("verb"),
        key=OuterRef("key"),
        pk__gt=OuterRef("pk"),
        done_at__isnull=False,
    )
    return DueWork.objects.filter(Q(fault="") | Exists(since), done_at__isnull=False)
