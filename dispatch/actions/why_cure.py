"""Why film is set when it is: the sheet's hours, what the hull's warmth makes of an hour, how the range comes about."""

import math
from collections.abc import Iterator
from datetime import datetime
from zoneinfo import ZoneInfo

from dispatch.actions import clock, holds
from dispatch.actions.board_words import when
from dispatch.records.models import Hold, Stage
from dispatch.trade import cure
from dispatch.trade.cure import SetTime
from dispatch.trade.units import df_to_dk
from dispatch.trade.words import Words

# As the cure clock's range has them: forecast hours so much colder, and so much warmer.
_COLDER_K, _WARMER_K = df_to_dk(1.5), df_to_dk(2)


def lines(stage: Stage, laid_at: datetime, words: Words) -> tuple[str, ...]:
    """How each of a film's moments comes about, where it is laid at a moment; nothing where the stage lays none."""
    return tuple(_lines(stage, laid_at, words))


def laid_at(stage: Stage, planned_end: datetime | None) -> datetime | None:
    """When a stage's film is laid: as it was reported or posted, else the end that a plan has; None where neither is known."""
    rows = Hold.objects.filter(stage=stage).values_list("start", flat=True)
    return rows.first() or planned_end


def _lines(stage: Stage, at: datetime, words: Words) -> Iterator[str]:
    sheet = stage.sheet
    if sheet is None or not sheet.rain_safe_ref_h:
        return
    zone = ZoneInfo(stage.job.boat.place.time_zone)
    for kind, ref_h in (
        (Hold.Kind.RAIN_SAFE, sheet.rain_safe_ref_h),
        (Hold.Kind.SANDABLE, sheet.sandable_ref_h),
    ):
        if ref_h:
            yield _line(stage, (kind.label, ref_h), at, words, zone)
    yield _rule(stage, words)


def _line(
    stage: Stage,
    wanted: tuple[str, float],
    at: datetime,
    words: Words,
    zone: ZoneInfo,
) -> str:
    name, ref_h = wanted
    needs = (
        f"{ref_h:g} h of cure at {words.degrees(cure.REFERENCE_C)} by the sheet of {stage.sheet}, "
        f"laid {when(at, zone)}"
    )
    times = holds.sets(stage, at, ref_h)
    if times is None or times.expected is None:
        cold = (
            holds.TOO_COLD if holds.too_cold(stage, at) else "not within this forecast"
        )
        return f"{name}: {cold}; it wants {needs}."
    warmth = _warmth(stage, at, times, words)
    return f"{name} about {when(times.expected, zone)}{_range(times, zone)}: {needs}. {warmth}"


def _range(times: SetTime, zone: ZoneInfo) -> str:
    early, late = (
        when(one, zone) if one else "not within this forecast"
        for one in (times.earliest, times.latest)
    )
    return f", from {early} to {late}"


def _warmth(stage: Stage, at: datetime, times: SetTime, words: Words) -> str:
    """The warmest and the coldest of the hull meanwhile, and what an hour counts there."""
    until = times.expected or at
    found = [c for c in holds.hull_c(stage, at, until) if math.isfinite(c)]
    if not found or stage.sheet is None:
        return ""
    least = stage.sheet.cure_min_c
    told = " and ".join(
        f"{cure.rate(c, least):.2f} h at {words.degrees(c)}"
        for c in (max(found), min(found))
    )
    return f"Meanwhile an hour counts {told}, the warmest and the coldest of her hull."


def _rule(stage: Stage, words: Words) -> str:
    least = stage.sheet.cure_min_c if stage.sheet else 0.0
    return (
        f"An hour counts 1 h at {words.degrees(cure.REFERENCE_C)}, twice that for every {words.difference(10)} more up to "
        f"{words.degrees(cure.HOTTEST_C)}, nothing below {words.degrees(least)} (the sheet). The range is her hull "
        f"{_tenth(_COLDER_K, words)} colder and {_tenth(_WARMER_K, words)} warmer than forecast{holds.aging(stage)}. "
        f"Our assumption, but for the sheet's numbers; reckoned {when(clock.now(), ZoneInfo(stage.job.boat.place.time_zone))}."
    )


def _tenth(kelvin: float, words: Words) -> str:
    return f"{kelvin * 1.8:g} °F" if words.system == "us" else f"{kelvin:.1f} °C"
