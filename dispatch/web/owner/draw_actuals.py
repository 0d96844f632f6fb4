"""Planned against real labour as a drawing: a mark a stage, its shape by grade, the line where both agree."""

import math
from collections.abc import Sequence

from django.utils.safestring import SafeString

from dispatch.actions.actuals import Point
from dispatch.web.owner import svg

WIDE, HIGH = 560.0, 420.0
_LEFT, _FOOT, _TOP = 56.0, 44.0, 14.0
_SIDE = min(WIDE - _LEFT - 16, HIGH - _FOOT - _TOP)
_R = 4.5


def drawn(points: Sequence[Point]) -> SafeString:
    """The plot of some points; both axes have one scale."""
    most = _round_up(max((max(p.planned, p.real) for p in points), default=60))
    ticks = [most * n / 4 for n in range(5)]
    marks = [_axis(most, tick) for tick in ticks]
    agree = svg.line(*_at(0, 0, most), *_at(most, most, most), "agree")
    names = [
        svg.words(
            _LEFT + _SIDE / 2, HIGH - 6, "planned labour-minutes", "tiny", "middle"
        ),
        svg.words(_LEFT + 6, _TOP + 10, "real labour-minutes", "tiny", "start"),
    ]
    return svg.joined([*marks, agree, *names, *(_point(one, most) for one in points)])


def _axis(most: float, tick: float) -> SafeString:
    x, y = _at(tick, tick, most)
    foot, left = _at(0, 0, most)[1], _LEFT
    return svg.joined(
        [
            svg.line(x, foot, x, _TOP, "hair"),
            svg.line(left, y, left + _SIDE, y, "hair"),
            svg.words(x, foot + 16, f"{tick:.0f}", "tiny", "middle"),
            svg.words(left - 6, y + 4, f"{tick:.0f}", "tiny", "end"),
        ]
    )


def _point(one: Point, most: float) -> SafeString:
    x, y = _at(one.planned, one.real, most)
    told = f"{one.boat}, {one.stage}, grade {one.grade}: planned {one.planned:.0f}, real {one.real:.0f} min"
    return svg.group([shape(one.grade, x, y)], title=told, cls=f"grade-{one.grade}")


def shape(grade: int, x: float, y: float) -> SafeString:
    """The mark of a grade: a ring, a square, a triangle, a cross."""
    if grade == 1:
        return svg.mark("circle", cx=x, cy=y, r=_R)
    if grade == 2:
        return svg.mark("rect", x=x - _R, y=y - _R, width=2 * _R, height=2 * _R)
    if grade == 3:
        return svg.path(f"M{x:.1f},{y - _R:.1f}l{_R},{2 * _R}h{-2 * _R}z", "")
    return svg.path(
        f"M{x - _R:.1f},{y - _R:.1f}l{2 * _R},{2 * _R}m0,{-2 * _R}l{-2 * _R},{2 * _R}",
        "",
    )


def _at(planned: float, real: float, most: float) -> tuple[float, float]:
    return (
        round(_LEFT + _SIDE * planned / most, 1),
        round(_TOP + _SIDE * (1 - real / most), 1),
    )


def _round_up(most: float) -> float:
    """The next number that four parts of are plain to read."""
    step = 10 ** math.floor(math.log10(max(most, 1)))
    return next(float(step * n) for n in (1, 2, 4, 6, 8, 10) if step * n >= most)
