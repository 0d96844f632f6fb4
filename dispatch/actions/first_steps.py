"""The way to a first week: what it needs, in the order to enter it, and what of it is there."""

from collections.abc import Callable, Iterable
from dataclasses import dataclass

from dispatch.actions import facts, first_sky, skill_words
from dispatch.records.models import (
    Account,
    Boat,
    Job,
    Person,
    Place,
    Sheet,
    Stage,
    Van,
    WeekPlan,
)

_NAMED = 4


@dataclass(frozen=True, kw_only=True)
class Step:
    """Something a first week needs: the name of its page, what it is for, whether it is there, and what is.

    ``of`` is whose page it is, where each has one; a step that ``may_wait`` is not for everybody.
    """

    page: str
    name: str
    why: str
    done: bool
    found: str = ""
    of: str = ""
    may_wait: bool = False


def steps(owner: Account) -> tuple[Step, ...]:
    """What a first week needs, in the order to enter it."""
    return (
        _base(),
        _crew(),
        *_yourself(owner),
        _van(),
        _product(),
        _boat(),
        *_aboard(),
        *_able(owner),
        *_last(),
    )


def begun() -> bool:
    """Whether a week was ever built here; until then an owner starts at the steps."""
    return WeekPlan.objects.exists()


def lacking(found: tuple[Step, ...]) -> tuple[Step, ...]:
    """The steps still to take; one that may wait is passed over for good by taking a later one."""
    gone_past = max((n for n, step in enumerate(found) if step.done), default=-1)
    return tuple(
        step
        for number, step in enumerate(found)
        if not step.done and not (step.may_wait and number < gone_past)
    )


def _base() -> Step:
    bases = Place.objects.filter(is_base=True).values_list("name", flat=True)
    return Step(
        page="place-new",
        name="The base",
        why="where the vans start",
        done=bool(bases),
        found=_named(bases),
    )


def _yourself(owner: Account) -> tuple[Step, ...]:
    if owner.person is None:
        return ()
    return (
        Step(
            page="person",
            of=owner.person.key,
            name="Yourself",
            why="your own skills and hours, where you work on hulls or drive",
            done=owner.person.duties.exists(),
            may_wait=True,
        ),
    )


def _crew() -> Step:
    on_duty = Person.objects.filter(active=True, duties__isnull=False).distinct()
    names = on_duty.order_by("name").values_list("name", flat=True)
    return Step(
        page="person-new",
        name="People on duty",
        why="who works, when, and what they can",
        done=bool(names),
        found=_named(names),
    )


def _van() -> Step:
    vans = Van.objects.filter(active=True).values_list("name", flat=True)
    return Step(
        page="van-new",
        name="A van",
        why="who drives it must drive and be on duty",
        done=bool(vans),
        found=_named(vans),
    )


def _product() -> Step:
    sheets = Sheet.objects.values_list("name", flat=True)
    return Step(
        page="sheet-new",
        name="A product",
        why="only where you lay film: its sheet sets the limits",
        done=bool(sheets),
        found=_named(sheets),
        may_wait=True,
    )


def _boat() -> Step:
    agreed = Job.objects.filter(state__in=("agreed", "in-hand"))
    boats = Boat.objects.filter(jobs__in=agreed).distinct()
    names = boats.order_by("name").values_list("name", flat=True)
    return Step(
        page="walk-round",
        name="A boat and her job",
        why="with her customer and her place",
        done=bool(names),
        found=_named(names),
    )


def _aboard() -> tuple[Step, ...]:
    """What agreed work asks to have aboard and no van carries; nothing where all is carried."""
    vans = Van.objects.filter(active=True).order_by("pk")
    carried = {name for van in vans for name in van.gear}
    lacking = _asked(lambda stage: stage.gear) - carried
    if not vans or not lacking:
        return ()
    return (
        Step(
            page="van",
            of=vans[0].key,
            name="What the work needs aboard",
            why=f"no van carries {' or '.join(sorted(lacking))}: name it as always aboard, or what needs it is left out",
            done=False,
        ),
    )


def _able(owner: Account) -> tuple[Step, ...]:
    """What agreed work asks of people and nobody on duty can; nothing where somebody can all of it."""
    on_duty = Person.objects.filter(active=True, duties__isnull=False)
    can = set(on_duty.values_list("skills__name", flat=True))
    asked = _asked(lambda stage: [need["skill"] for need in stage.needs])
    lacking = asked - can
    if not lacking:
        return ()
    return (
        Step(
            page="person" if owner.person else "people",
            of=owner.person.key if owner.person else "",
            name="What the work asks of people",
            why=f"nobody on duty has a level in {', '.join(map(skill_words.called, sorted(lacking)))}: what needs it is left out",
            done=False,
            may_wait=True,
        ),
    )


def _asked(names: Callable[[Stage], Iterable[str]]) -> set[str]:
    """What open work asks for, however it is done: of the ways a stage has, what each of them asks."""
    by_stage: dict[tuple[int, int], set[str]] = {}
    for stage in facts.open_stages():
        at = (stage.job_id, stage.position)
        by_stage[at] = by_stage.get(at, set(names(stage))) & set(names(stage))
    return set().union(*by_stage.values())


def _last() -> tuple[Step, Step]:
    return (
        Step(
            page="begin-sky",
            name="A sky",
            why="a forecast, and the limits it is judged by: without them nothing outside is a go",
            done=first_sky.told(),
        ),
        Step(
            page="week",
            name="The first week",
            why="build it, look at it, post it",
            done=begun(),
        ),
    )


def _named(rows: Iterable[str]) -> str:
    """Names in a line; of many the first, and how many more."""
    names = list(rows)
    more = len(names) - _NAMED
    return ", ".join(names[:_NAMED]) + (f" and {more} more" if more > 0 else "")
