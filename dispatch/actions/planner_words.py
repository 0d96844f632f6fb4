"""The planner's sentences as people read them: names for keys, days of the week for their numbers."""

import re
from collections.abc import Mapping
from datetime import timedelta

from dispatch.actions import barred, skill_words, snapshot_air
from dispatch.actions.board_reading import Reading
from dispatch.actions.timeline import Timeline
from dispatch.records.models import Equipment, Stage, Van

# "at Wed 10:20" is not how people say it.
_MOMENT = re.compile(r"\b(?:at )?day (\d+), (\d\d):(\d\d)")
_DAY = re.compile(r"\bday (\d+)\b")
_WEEK = 7
# The planner's two ways of saying that somebody may not do a stage, in its keys.
_BARRED = (
    re.compile(r"(?:(?P<stage>[\w.-]+): )?(?P<who>[\w-]+) may not do it\.?"),
    re.compile(r"(?P<who>[\w-]+) is barred from (?P<stage>[\w.-]+)"),
)


def said(reading: Reading, sentence: str, stage: str = "") -> str:
    """A sentence of the planner's with names in place of keys and dates in place of numbers of days.

    Where it says no more than that somebody may not do a stage it says why; ``stage`` is the one it speaks of where it names none.
    """
    return _may_not(reading, sentence, stage) or dated(
        reading.line, _called(reading, named(reading.stages, sentence))
    )


def _may_not(reading: Reading, sentence: str, stage: str) -> str:
    """Why somebody may not do a stage; empty where the sentence says something else."""
    hit = next((hit for one in _BARRED if (hit := one.fullmatch(sentence))), None)
    if hit is None:
        return ""
    row = reading.stages.get(hit["stage"] or stage)
    person = reading.people.get(hit["who"])
    days = reading.line.dates
    return barred.why(row, person, days[0], days[-1]) if row and person else ""


def named(stages: Mapping[str, Stage], sentence: str) -> str:
    """A sentence with stages called by their names in place of their keys."""
    return _swapped(sentence, {key: f"“{stages[key].name}”" for key in stages})


def dated(line: Timeline, sentence: str) -> str:
    """A sentence with ``at day 3, 10:20`` as ``Wed 10:20`` and ``day 3`` as ``Wednesday``, by the outfit's clock."""
    return _DAY.sub(
        lambda hit: _day(line, hit),
        _MOMENT.sub(lambda hit: _moment(line, hit), sentence),
    )


def _moment(line: Timeline, hit: re.Match[str]) -> str:
    day, hour, minute = map(int, hit.groups())
    past = timedelta(days=max(0, day - len(line.dates) - 1))
    begins = line.moment(
        line.days[day - 1][0] if day <= len(line.dates) else line.days[-1][1]
    )
    # Minutes are elapsed ones: on a day the clock changes they are not the clock's.
    local = (begins + past + timedelta(hours=hour, minutes=minute)).astimezone(
        line.zone
    )
    return (
        f"{local:%a %H:%M}"
        if day <= _WEEK
        else f"{local:%a} {local.day} {local:%b %H:%M}"
    )


def _day(line: Timeline, hit: re.Match[str]) -> str:
    day = int(hit[1])
    if day > len(line.dates):
        return hit[0]
    on = line.dates[day - 1]
    return f"{on:%A}" if len(line.dates) <= _WEEK else f"{on:%A} {on.day} {on:%B}"


def _called(reading: Reading, sentence: str) -> str:
    """Call people, vans, equipment and skills by their names."""
    names = dict(Van.objects.values_list("key", "name"))
    names |= dict(Equipment.objects.values_list("key", "name"))
    names |= {key: person.name for key, person in reading.people.items()}
    names |= skill_words.SAID
    names |= snapshot_air.names(reading.problem.get("trailers", ()))
    return _swapped(sentence, names)


def _swapped(sentence: str, names: Mapping[str, str]) -> str:
    """Put names in place of whole keys, the longest first."""
    if not names:
        return sentence
    keys = "|".join(re.escape(key) for key in sorted(names, key=len, reverse=True))
    return re.sub(
        rf"(?<![\w.-])(?:{keys})(?![\w-]|\.\w)", lambda hit: names[hit[0]], sentence
    )
