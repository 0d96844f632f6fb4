"""The sky ribbon: cloud as ink, rain as ticks, dew as a rising wash, gust as a line with its limit."""

from datetime import datetime, timedelta

from django.utils.safestring import SafeString

from dispatch.actions.board import Board, Hour
from dispatch.trade.words import Words
from dispatch.web.owner import svg
from dispatch.web.owner.scale import Scale

HEIGHT = 66.0
_HOUR = timedelta(hours=1)
_LIKELY_PCT = 40.0
_MOST_MS = 16.0


def ribbon(board: Board, scale: Scale, top: float) -> SafeString:
    """The whole ribbon; an hour nobody knows is hatched, and all of it thinly once the forecast is old."""
    marks = [svg.rect(scale.left, top, scale.right - scale.left, HEIGHT, "sky-ground")]
    known = {hour.at: hour for hour in board.sky.hours}
    moment, end = board.day_spans[0].start, board.day_spans[-1].end
    while moment < end:
        marks += _hour(known.get(moment), board, scale, (moment, top))
        moment += _HOUR
    if board.sky.stale:
        wide = scale.right - scale.left
        marks.append(
            svg.rect(scale.left, top, wide, HEIGHT, "stale", fill="url(#stale)")
        )
    marks += [*_gust(board, scale, top), *_limit(board, scale, top)]
    return svg.group(marks, title="The sky hour by hour", cls="sky")


def _hour(
    hour: Hour | None, board: Board, scale: Scale, at: tuple[datetime, float]
) -> list[SafeString]:
    moment, top = at
    x, w = scale.x(moment), scale.x(moment + _HOUR) - scale.x(moment)
    if hour is None or hour.cloud_pct is None or hour.gust_ms is None:
        return [svg.rect(x, top, w, HEIGHT, "unknown", fill="url(#unknown)")]
    marks = [
        svg.rect(
            x,
            top,
            w,
            HEIGHT,
            "cloud",
            fill_opacity=f"{hour.cloud_pct / 260:.2f}",
        )
    ]
    dew = _dew(hour, board)
    if dew:
        marks.append(svg.rect(x, top + HEIGHT - dew, w, dew, "dew"))
    marks += _rain(hour, x, w, top)
    return marks


def _dew(hour: Hour, board: Board) -> float:
    """How high the wash stands: from nothing at the limit's spread to a third of the ribbon at none."""
    limit = board.sky.spread_limit_k
    if hour.spread_k is None or hour.spread_k >= limit or limit <= 0:
        return 0.0
    return HEIGHT * 0.36 * min(1.0, (limit - hour.spread_k) / limit)


def _rain(hour: Hour, x: float, w: float, top: float) -> list[SafeString]:
    mm, chance = hour.rain_mm or 0.0, hour.rain_prob_pct or 0.0
    if mm < 0.1 and chance < _LIKELY_PCT:
        return []
    ticks = 1 if w < 3 else 2
    length = 9 + min(12.0, 4 * mm)
    return [
        svg.line(
            x + w * (i + 0.6) / ticks + 1,
            top + 8,
            x + w * (i + 0.6) / ticks - 1.5,
            top + 8 + length,
            "rain",
        )
        for i in range(ticks)
    ]


def _y(gust_ms: float, top: float) -> float:
    return top + HEIGHT - 3 - (HEIGHT - 8) * min(gust_ms, _MOST_MS) / _MOST_MS


def _gust(board: Board, scale: Scale, top: float) -> list[SafeString]:
    """A line through the middle of each hour, broken where an hour is unknown."""
    runs: list[list[str]] = [[]]
    for hour in board.sky.hours:
        if hour.gust_ms is None:
            runs.append([])
            continue
        x = scale.x(hour.at + _HOUR / 2)
        runs[-1].append(f"{x:.1f} {_y(hour.gust_ms, top):.1f}")
    return [svg.path("M" + "L".join(run), "gust") for run in runs if len(run) > 1]


def _limit(board: Board, scale: Scale, top: float) -> list[SafeString]:
    limit, words = board.sky.gust_limit_ms, Words(system=board.units)
    y = _y(limit, top)
    return [
        svg.line(scale.left, y, scale.right, y, "limit"),
        svg.words(scale.right + 5, y + 4, words.speed(limit), "tiny trouble"),
    ]
