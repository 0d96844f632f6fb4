"""When each side of a hull lies in shade, as hairlines over the hours: one day, and a week."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta
from zoneinfo import ZoneInfo

from django.utils.safestring import SafeString

from dispatch.actions.show_hull import ShadeDay
from dispatch.actions.sun_facts import SIDES
from dispatch.web.owner import scale, svg
from dispatch.web.owner.scale import Scale

_LEFT, _WIDTH, _HEAD = 104.0, 520.0, 24.0
_DAY_ROW, _WEEK_ROW, _WEEK_DAY = 22.0, 17.0, 62.0
_HOURS = (6, 9, 12, 15, 18)


@dataclass(frozen=True, kw_only=True)
class Drawing:
    """Marks with the sheet they stand on, and the same in words, a line a side and day."""

    width: float
    height: float
    marks: SafeString
    lines: tuple[str, ...]


def day(shown: ShadeDay, zone: ZoneInfo, moment: datetime) -> Drawing:
    """One day: a hairline a side where it lies in shade, the place's hours behind, now as a line across."""
    along = scale.of([shown.day], zone, _LEFT, _WIDTH)
    height = _HEAD + _DAY_ROW * len(SIDES) + 6
    marks = [*_hours(along, shown, zone, height), *_open(along, shown, _HEAD, height)]
    for index, side in enumerate(SIDES):
        y = _HEAD + _DAY_ROW * (index + 0.6)
        marks.append(svg.words(0, y + 5, side.capitalize(), "small-name"))
        marks += _hairs(along, shown, side, y)
    if shown.span.holds(moment):
        x = along.x(moment)
        marks.append(svg.line(x, _HEAD - 4, x, height, "now-rope"))
    return Drawing(
        width=_LEFT + _WIDTH + 4,
        height=height,
        marks=svg.joined(marks),
        lines=tuple(says(shown, side, zone) for side in SIDES),
    )


def week(days: Sequence[ShadeDay], zone: ZoneInfo) -> Drawing:
    """A week, a row a day: three hairlines, port, starboard and transom from the top."""
    along = scale.of([days[0].day], zone, _LEFT, _WIDTH)
    height = _HEAD + _WEEK_DAY * len(days)
    marks = list(_hours(along, days[0], zone, height))
    for index, shown in enumerate(days):
        top = _HEAD + _WEEK_DAY * index
        by_day = scale.of([shown.day], zone, _LEFT, _WIDTH)
        marks += _open(by_day, shown, top + 2, top + _WEEK_DAY - 6)
        marks.append(
            svg.words(
                0,
                top + 10 + _WEEK_ROW + 5,
                f"{shown.day:%a} {shown.day.day}",
                "small-name",
            )
        )
        for side_index, side in enumerate(SIDES):
            y = top + 10 + _WEEK_ROW * side_index
            marks.append(
                svg.words(_LEFT - 8, y + 5, side[0].upper(), "side-letter", "end")
            )
            marks += _hairs(by_day, shown, side, y)
    return Drawing(
        width=_LEFT + _WIDTH + 4,
        height=height,
        marks=svg.joined(marks),
        lines=tuple(
            f"{shown.day:%a} {shown.day.day}: {says(shown, side, zone)}"
            for shown in days
            for side in SIDES
        ),
    )


def says(shown: ShadeDay, side: str, zone: ZoneInfo) -> str:
    """A side's shade of one day in words, from the place's midnight on."""
    spans = shown.shade[side]
    if not spans:
        return f"{side.capitalize()} in the sun all day"
    said = [_between(shown, span.start, span.end, zone) for span in spans]
    if said == ["all day"]:
        return f"{side.capitalize()} in shade all day"
    return f"{side.capitalize()} in shade {' and '.join(said)}"


def _between(shown: ShadeDay, start: datetime, end: datetime, zone: ZoneInfo) -> str:
    begins, ends = start <= shown.span.start, end >= shown.span.end
    if begins and ends:
        return "all day"
    first, last = (f"{one.astimezone(zone):%H:%M}" for one in (start, end))
    if begins:
        return f"until {last}"
    return f"from {first}" if ends else f"{first} to {last}"


def _hours(
    along: Scale, shown: ShadeDay, zone: ZoneInfo, height: float
) -> Iterator[SafeString]:
    for hour in _HOURS:
        at = shown.span.start.astimezone(zone).replace(tzinfo=None) + timedelta(
            hours=hour
        )
        x = along.x(at.replace(tzinfo=zone))
        yield svg.line(x, _HEAD - 4, x, height, "hour")
        yield svg.words(x, 14, f"{hour:02d}:00", "tiny", "middle")


def _open(
    along: Scale, shown: ShadeDay, top: float, bottom: float
) -> Iterator[SafeString]:
    for span in shown.access:
        left, right = along.x(span.start), along.x(span.end)
        yield svg.rect(left, top, right - left, bottom - top, "may-work")


def _hairs(along: Scale, shown: ShadeDay, side: str, y: float) -> Iterator[SafeString]:
    for span in shown.shade[side]:
        yield svg.line(along.x(span.start), y, along.x(span.end), y, "shade-hair")
