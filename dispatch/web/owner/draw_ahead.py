"""The weeks ahead as bars: hours there are as an outline, planned and promised inside it, hatched where they burst it."""

from collections.abc import Sequence

from django.utils.safestring import SafeString

from dispatch.actions.room_ahead import WeekAhead
from dispatch.web.owner import svg

WIDE = 640.0
_LEFT, _ROW, _BAR = 92.0, 34.0, 18.0


def high(count: int) -> float:
    """How high the drawing of so many weeks is."""
    return _ROW * count + 8


def drawn(weeks: Sequence[WeekAhead]) -> SafeString:
    """A bar a week, all on one scale."""
    most = max((max(w.there_minutes, w.taken_minutes) for w in weeks), default=0) or 1
    scale = (WIDE - _LEFT - 90) / most
    return svg.joined([_week(one, n * _ROW + 6, scale) for n, one in enumerate(weeks)])


def _week(one: WeekAhead, y: float, scale: float) -> SafeString:
    planned, promised = one.planned_minutes * scale, one.promised_minutes * scale
    told = "nobody there" if one.share is None else f"{one.share * 100:.0f} %"
    burst = " burst" if one.taken_minutes > one.there_minutes else ""
    monday = f"{one.starts_on.day} {one.starts_on:%b}"
    marks = [
        svg.words(_LEFT - 10, y + 14, monday, "small-name", "end"),
        svg.rect(_LEFT, y, one.there_minutes * scale, _BAR, "there"),
    ]
    if planned:
        marks.append(svg.rect(_LEFT, y, planned, _BAR, f"planned{burst}"))
    if promised:
        marks.append(svg.rect(_LEFT + planned, y, promised, _BAR, f"promised{burst}"))
    end = _LEFT + max(one.there_minutes, one.taken_minutes) * scale
    marks.append(svg.words(end + 8, y + 14, told, f"tiny{' trouble' if burst else ''}"))
    return svg.joined(marks)
