"""How far a job is, from asked for to handed back: which steps there are, who takes them, what each does."""

from collections.abc import Mapping

from django.db import transaction

from dispatch.actions import access, agreeing, clock, due, history, taken_off
from dispatch.actions.errors import Refused, Stale
from dispatch.records.models import Account, Job, Stage

_S = Job.State
# Where a job may go by the owner's hand. Crew move it too, by what they report: the first visit done
# puts it in hand, the last one hands it back.
STEPS: Mapping[str, tuple[str, ...]] = {
    _S.ASKED: (_S.AGREED, _S.CALLED_OFF),
    _S.AGREED: (_S.ASKED, _S.PUT_OFF, _S.CALLED_OFF),
    _S.IN_HAND: (_S.HANDED_BACK, _S.PUT_OFF, _S.CALLED_OFF),
    _S.HANDED_BACK: (_S.IN_HAND,),
    _S.PUT_OFF: (_S.AGREED, _S.CALLED_OFF),
    _S.CALLED_OFF: (_S.ASKED, _S.AGREED),
}
WORDS: Mapping[str, str] = {
    _S.ASKED: "Back to asked for",
    _S.AGREED: "Agreed: plan it",
    _S.IN_HAND: "Not done yet: take it up again",
    _S.HANDED_BACK: "Handed back",
    _S.PUT_OFF: "Put off, lay her up",
    _S.CALLED_OFF: "Called off, gone",
}
# Steps that go against what was agreed or reported: the history wants to know why.
_WANTS_WHY = {
    (_S.IN_HAND, _S.HANDED_BACK),
    (_S.HANDED_BACK, _S.IN_HAND),
    (_S.IN_HAND, _S.CALLED_OFF),
    (_S.IN_HAND, _S.PUT_OFF),
}
_PLANNED = {_S.AGREED, _S.IN_HAND}


def wants_why(before: str, after: str) -> bool:
    """Whether a step needs a reason."""
    return (before, after) in _WANTS_WHY


@transaction.atomic
def move(job: Job, to: str, *, by: Account, why: str = "", seen: str = "") -> int:
    """Move a job to another state; return how many posted visits of it were taken off.

    A job that leaves the plan loses its visits ahead, and its customer is told of those already announced.
    What is wet stays wet: holds of film go on.

    Raises:
        Stranger: the account is not the owner's.
        Refused: there is no such step, it needs a reason, or it would take visits off while everything is held still.
        Stale: the job stood elsewhere than the owner saw.
    """
    access.owner(by)
    stood = Job.objects.select_for_update().get(pk=job.pk)
    before = stood.state
    if seen and seen != before:
        raise Stale(
            f"{stood} is {stood.get_state_display().lower()} meanwhile. Look at it again."
        )
    _check(stood, to, why)
    handed = clock.now() if to == _S.HANDED_BACK else None
    Job.objects.filter(pk=stood.pk).update(
        state=to, handed_back_at=handed, version=stood.version + 1
    )
    stood.refresh_from_db()
    off = taken_off.off(stood) if before in _PLANNED and to not in _PLANNED else 0
    if to in _PLANNED and before not in _PLANNED:
        for stage in stood.stages.exclude(state=Stage.State.DONE):
            due.put("judge-stage", str(stage.pk))
    history.write(
        "move-job",
        f"job {stood.key}",
        _told(stood, Job.State(to).label.lower(), off),
        by=by,
        why=why,
    )
    if before == _S.ASKED:
        agreeing.told(stood)
    return off


def _check(job: Job, to: str, why: str) -> None:
    if to not in STEPS[job.state]:
        raise Refused(
            f"{job} is {job.get_state_display().lower()}; from there it cannot become "
            f"{to.replace('-', ' ')}."
        )
    if wants_why(job.state, to) and not why.strip():
        raise Refused("Say why: it goes against what was agreed or reported.")
    if job.stages.filter(state=Stage.State.UNDER_WAY).exists() and to != _S.HANDED_BACK:
        raise Refused(f"A visit of {job} is under way. Let the crew finish it first.")


def _told(job: Job, state: str, off: int) -> str:
    return f"{job.boat.name}: {job.kind.name.lower()} is {state} now.{taken_off.counted(off)}"
