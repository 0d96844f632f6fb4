"""A build waits a while for the sky of what it may plan: what is not judged yet would be left out of the week."""

from collections.abc import Callable
from threading import Event
from time import monotonic

from django.db.models import Q
from django.utils import timezone

from dispatch.actions import snapshot_open
from dispatch.records.models import DueWork, Stage, Week, WeekPlan

PHASE = "sky"
PATIENCE_S = 20.0
_LOOK_S = 0.2
_OF_ALL = ("judge-book", "refigure-book")
# What the sky of a stage waits for; a worker that waits may do some of it meanwhile.
VERBS = frozenset({"judge-stage", "refigure-job", "take-in-forecast", *_OF_ALL})


def wait(
    plan: WeekPlan, *, lend: Callable[[], bool], patience_s: float = PATIENCE_S
) -> None:
    """Wait until the sky of all that a plan may hold is judged, the owner says stop, or the patience ends.

    ``lend`` does one piece of the judging that is due and says whether there was any: a worker alone
    would wait for itself. The plan tells meanwhile whose sky it waits for.
    """
    until = monotonic() + patience_s
    rows = WeekPlan.objects.filter(pk=plan.pk)
    asked = rows.filter(state=WeekPlan.State.ASKED, stop_asked=False)
    while monotonic() < until and asked.exists() and (names := boats(plan.week)):
        asked.update(progress={"phase": PHASE, "boats": list(names)})
        if not lend():
            Event().wait(_LOOK_S)


def boats(week: Week) -> tuple[str, ...]:
    """The boats that a week may plan and whose sky is due to be judged by now, by name."""
    due = DueWork.objects.filter(
        verb__in=VERBS, done_at__isnull=True, due_at__lte=timezone.now()
    )
    waiting = set(due.values_list("verb", "key"))
    if not waiting:
        return ()
    found = snapshot_open.of(week).stages
    known = _known(found)
    names = {
        stage.job.boat.name
        for stage in found
        if _waits(stage, waiting, known=stage.pk in known)
    }
    return tuple(sorted(names))


def _waits(stage: Stage, waiting: set[tuple[str, str]], *, known: bool) -> bool:
    """Whether a stage is to be judged; a forecast on its way is waited for only where nothing is known."""
    mine = {("judge-stage", str(stage.pk)), ("refigure-job", stage.job.key)}
    if any(verb in _OF_ALL for verb, _ in waiting) or mine & waiting:
        return True
    return not known and ("take-in-forecast", stage.job.boat.place.key) in waiting


def _known(found: tuple[Stage, ...]) -> set[int]:
    judged = Stage.objects.filter(pk__in=[stage.pk for stage in found])
    return set(judged.filter(Q(judged__fault="")).values_list("pk", flat=True))
