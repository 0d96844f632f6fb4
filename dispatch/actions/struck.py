"""What keeps rain and dew off wet film, and when it must be down again by the newest forecast of her place."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta
from zoneinfo import ZoneInfo

from dispatch.actions import board_sky, clock, covered, entries, facts
from dispatch.actions.board import Hour
from dispatch.actions.board_words import when
from dispatch.records.models import Cover, Hold, Place, Stage
from dispatch.trade import roof
from dispatch.trade.roof import Struck
from dispatch.trade.words import Words

# Where no forecast says when film is rain-safe, gusts are looked for as far as any forecast goes.
_FARTHEST = timedelta(days=14)


@dataclass(frozen=True, kw_only=True)
class Keeper:
    """What is over wet film: its name, and the gust at which it must be down, None where nobody told.

    ``is_roof`` is false of whatever could be had, which has no maker to ask.
    """

    name: str
    down_gust_ms: float | None
    is_roof: bool = True


def over(stage: Stage | None, cover: Cover | None) -> Keeper | None:
    """What is over film that a stage laid: the cover that somebody said is on, else the roof it was laid under; None in the open.

    Which of several roofs it was laid under is not known: the one that must be down first counts.
    """
    if cover is not None and cover.on_at is not None:
        return of_cover(cover)
    if stage is not None and stage.cover == Stage.Cover.ROOF:
        return Keeper(name="the roof", down_gust_ms=facts.down_gust_ms(stage))
    return None


def of_cover(cover: Cover) -> Keeper:
    """A cover as what is over wet film."""
    thing = cover.equipment
    return Keeper(
        name=covered.name(cover),
        down_gust_ms=thing.down_gust_ms if thing else None,
        is_roof=thing is not None,
    )


def first(
    keeper: Keeper, where: Place, now: datetime, until: datetime
) -> Struck | None:
    """From when on it must be down before a moment; None where no gust that is forecast says so, or nobody told its limit."""
    if keeper.down_gust_ms is None:
        return None
    hours = board_sky.hours_from(where, now, until)
    gusts = [(max(hour.at, now), hour.gust_ms) for hour in hours]
    return roof.first(gusts, keeper.down_gust_ms)


def says(keeper: Keeper, found: Struck, zone: ZoneInfo) -> str:
    """When it must be down, with the numbers."""
    words = Words(system=entries.system())
    return f"{keeper.name} must be down {when(found.at, zone)}: {found.says(words)}"


def till(keeper: Keeper, where: Place, now: datetime, until: datetime) -> str:
    """Whether it can stay over her until a moment, with the numbers; empty of what is no roof. Unknown is said to be unknown."""
    if not keeper.is_roof:
        return ""
    if keeper.down_gust_ms is None:
        return f"at which gust {keeper.name} must be down nobody has entered: ask its maker"
    found = first(keeper, where, now, until)
    if found:
        return says(keeper, found, ZoneInfo(where.time_zone))
    hours = board_sky.hours_from(where, now, until)
    if not board_sky.told(hours, now, until, "gust_ms"):
        return f"whether {keeper.name} can stay till her film is rain-safe is not known: gusts are not forecast so far"
    return _stays(keeper.name, keeper.down_gust_ms, hours)


def of(cover: Cover) -> str:
    """Whether a cover of the outfit can stay till her laid film is rain-safe; empty where that is safe, or it is no roof."""
    now, where = clock.now(), cover.job.boat.place
    held = Hold.objects.filter(
        stage__job=cover.job, kind=Hold.Kind.RAIN_SAFE, planned=False, start__lte=now
    )
    ends = [end or now + _FARTHEST for end in held.values_list("end", flat=True)]
    until = max(ends, default=now)
    return till(of_cover(cover), where, now, until) if until > now else ""


def _stays(name: str, down_gust_ms: float, hours: Sequence[Hour]) -> str:
    words = Words(system=entries.system())
    most = max(hour.gust_ms for hour in hours if hour.gust_ms is not None)
    return f"gusts to {words.speed(most)} are forecast till her film is rain-safe, and {name} must be down at {words.speed(down_gust_ms)}"
