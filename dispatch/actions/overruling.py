"""Overrule a rule for a visit, by whom the rule allows it, with the reason; it lapses when the numbers grow worse."""

from collections.abc import Sequence
from datetime import timedelta
from zoneinfo import ZoneInfo

from django.db import transaction

from dispatch.actions import access, clock, history, overrides, rejudging
from dispatch.actions.errors import Refused, Stranger
from dispatch.records.models import Account, Override, Visit, WeekPlan
from dispatch.trade import window
from dispatch.trade.shifts import Objection
from dispatch.trade.spans import Span

# A late start is no new question, as long as the numbers are no worse.
_LATER = timedelta(hours=1)
_SHORTEST, _LONGEST = 8, 400


@transaction.atomic
def overrule(visit: Visit, code: str, *, by: Account, why: str) -> Override:
    """Overrule one rule for a posted visit, with a reason; it holds while the rule finds nothing worse.

    Raises:
        Stranger: the account is neither the owner's nor, where a lead may, that of a lead who rides there.
        Refused: nobody may overrule it, it does not stand against the visit, or the reason says too little.
    """
    stage, asked = visit.stage, Span(visit.start, visit.end)
    broken = [
        veto
        for veto in window.judge(asked, overrides.standing(stage))
        if veto.code == code
    ]
    if not broken:
        raise Refused(
            f"{overrides.name(code)} does not stand against this visit any more. Load the page again."
        )
    wall = next(
        (veto for veto in broken if overrides.who_may(veto, asked) == "wall"), None
    )
    if wall is not None:
        raise Refused(f"Nobody may overrule this: {wall.sentence}.")
    who = _allowed(visit, {overrides.who_may(veto, asked) for veto in broken}, by)
    worst = max(broken, key=lambda veto: veto.excess)
    row = Override.objects.create(
        stage=stage,
        code=code,
        start=visit.start,
        end=visit.end + _LATER,
        excess=worst.excess,
        strength=worst.strength,
        sentence=worst.sentence,
        why=reason(why),
        by=by,
        who=who,
        at=clock.now(),
    )
    _write(
        "overrule", visit, f"{who} overruled {overrides.name(code).lower()}", row, by
    )
    rejudging.again([stage], f"{who} overruled a rule")
    return row


@transaction.atomic
def take_back(row: Override, *, by: Account) -> None:
    """Let a rule stand again.

    Raises:
        Stranger: the account is not the owner's.
    """
    access.owner(by)
    visit = Visit.objects.select_related("stage__job__boat__place").get(stage=row.stage)
    _write("let-stand", visit, f"{overrides.name(row.code)} stands again", row, by)
    row.delete()
    rejudging.again([visit.stage], "A rule stands again")


def keep_with(
    plan: WeekPlan, broken: Sequence[Objection], *, by: Account, why: str
) -> None:
    """Keep with a plan what it was posted against, in the caller's transaction.

    Raises:
        Refused: the reason says too little, or too much.
    """
    for one in broken:
        Override.objects.create(
            plan=plan,
            code=one.code,
            strength=one.strength,
            sentence=one.sentence,
            why=reason(why),
            by=by,
            who=_called(by),
            at=clock.now(),
        )


def reason(why: str) -> str:
    """A reason as it is kept.

    Raises:
        Refused: it says too little, or too much.
    """
    kept = " ".join(why.split())
    if not _SHORTEST <= len(kept) <= _LONGEST:
        raise Refused(
            f"Say why, in {_SHORTEST} to {_LONGEST} letters: it is kept and shown beside the visit."
        )
    return kept if kept[-1] in ".!?" else f"{kept}."


def _allowed(visit: Visit, strengths: set[str], by: Account) -> str:
    """The name of an account that may overrule rules of some strengths for a visit."""
    name = _called(by)
    if access.is_owner(by):
        return name
    leads = visit.van_day.team.filter(skills__name="lead", account=by)
    if strengths == {"lead"} and leads.exists():
        return name
    raise Stranger("Only the owner may overrule this. Ask the owner.")


def _called(by: Account) -> str:
    return by.person.name if by.person else by.username


def _write(verb: str, visit: Visit, did: str, row: Override, by: Account) -> None:
    stage = visit.stage
    zone = ZoneInfo(stage.job.boat.place.time_zone)
    history.write(
        verb,
        f"job {stage.job.key}",
        f"{did} for {stage.name} on {stage.job.boat.name}, {visit.start.astimezone(zone):%a %H:%M}: {row.sentence}.",
        by=by,
        why=row.why,
    )
