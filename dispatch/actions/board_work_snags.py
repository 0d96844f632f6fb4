"""Snags of single visits: the sky has turned against one, or it has little time to spare."""

from collections.abc import Iterator, Sequence
from datetime import datetime

from dispatch.actions import (
    begun,
    board_strips,
    holds,
    late_days,
    overrides,
    rates,
    visit_sky,
    windows,
)
from dispatch.actions.board import Snag
from dispatch.actions.board_reading import Reading
from dispatch.actions.board_strips import Visit
from dispatch.actions.board_words import between, lasting, names, when
from dispatch.actions.visit_sky import Says
from dispatch.records.models import Stage
from dispatch.trade.spans import Span

_APART = 2
_FOUL = 4  # the most visits under a foul sky that are told one by one


def of(reading: Reading) -> Iterator[Snag]:
    """Every visit still to come that the sky forbids or that is not known, or that ends close to the end of its hours."""
    likely: list[Visit] = []
    unknown: dict[str, list[Visit]] = {}
    foul: list[tuple[Visit, Says]] = []
    for rows in board_strips.visits(reading).values():
        for visit in rows:
            if not visit.done and visit.span.start >= reading.now:
                says = visit_sky.of(visit.stage, visit.span, reading.now)
                if says.word == visit_sky.UNKNOWN and not says.likely:
                    unknown.setdefault(says.why, []).append(visit)
                elif says.word == visit_sky.FORBIDS:
                    foul.append((visit, says))
                elif visit.stage.family == "spray":
                    yield from _spare(reading, visit)
                yield from _too_early(reading, visit, rows)
                yield from _overruled(reading, visit)
                likely += [visit] if says.likely else []
    yield from _running(reading)
    yield from _foul(reading, foul)
    for why, visits in unknown.items():
        yield from _unknown(reading, visits, why)
    yield from _likely(reading, likely)
    yield from _laid_anew(reading)


def _foul(reading: Reading, foul: Sequence[tuple[Visit, Says]]) -> Iterator[Snag]:
    """Visits that the sky forbids, each by herself; of many the first, and the others in one sentence, so that they hide no other snag."""
    ordered = sorted(foul, key=lambda row: row[0].span.start)
    shown = len(ordered) if len(ordered) <= _FOUL else _FOUL - 1
    for visit, says in ordered[:shown]:
        yield Snag(
            weight=100,
            subject=visit.stage.job.boat.name,
            stage=visit.name,
            sentence=f"{_what(reading, visit)}: the sky no longer allows it. {says.why}",
            mend="Plan the rest anew, or build the week again.",
            anew=True,
            about=f"sky:{visit.name}",
        )
    others = [visit for visit, _ in ordered[shown:]]
    if others:
        boats = list(dict.fromkeys(visit.stage.job.boat.name for visit in others))
        yield Snag(
            weight=99,
            subject="Sky",
            sentence=f"{len(others)} later visits are not allowed by the sky either, from {when(others[0].span.start, reading.line.zone)} on: {names(boats)}.",
            mend="Plan the rest anew, or build the week again.",
            anew=True,
        )


def _what(reading: Reading, visit: Visit) -> str:
    return f"“{visit.stage.name}” {between(visit.span, reading.line.zone)}"


def _unknown(reading: Reading, visits: Sequence[Visit], why: str) -> Iterator[Snag]:
    """Visits whose sky is not known, each by herself; many of one reason in one sentence, so that they hide no other snag."""
    ordered = sorted(visits, key=lambda visit: visit.span.start)
    shown = ordered if len(ordered) <= _APART else ordered[:1]
    for visit in shown:
        boat, what = visit.stage.job.boat.name, _what(reading, visit)
        said = f"{what}: the sky there is not known, so it is not a go."
        if len(ordered) > _APART:
            said = f"The sky of {len(ordered)} visits is not known, so none of them is a go; the first is {boat}, {what}."
            boat = "Sky"
        yield Snag(
            weight=99,
            subject=boat,
            stage=visit.name,
            sentence=f"{said} {why}",
            mend="Get forecasts: free, a minute or two.",
            does="forecasts",
        )


def _overruled(reading: Reading, visit: Visit) -> Iterator[Snag]:
    """What somebody decided against a rule is told beside the visit, with who and why."""
    told = overrides.told(visit.stage, visit.span)
    if told:
        yield Snag(
            weight=60,
            subject=visit.stage.job.boat.name,
            stage=visit.name,
            sentence=f"{_what(reading, visit)}: {told}",
        )


def _laid_anew(reading: Reading) -> Iterator[Snag]:
    """Coats to be laid anew, as the second one did not follow in time, that no visit is posted for."""
    missed = Stage.objects.filter(
        job__in=reading.jobs,
        too_late__isnull=False,
        state=Stage.State.TO_DO,
        visit__isnull=True,
    )
    for stage in missed.select_related("job__boat").distinct():
        yield Snag(
            weight=98,
            subject=stage.job.boat.name,
            sentence=f"{stage.name}: the second coat did not follow in time, so once hard it is scuffed and laid anew.",
            mend="Plan the rest anew, or build the week again.",
            anew=True,
        )


def _likely(reading: Reading, visits: Sequence[Visit]) -> Iterator[Snag]:
    """Visits too far ahead of the forecast to be sure of, in one sentence."""
    if not visits:
        return
    first = min(visit.span.start for visit in visits)
    count = f"{len(visits)} visit{' lies' if len(visits) == 1 else 's lie'}"
    hours = f"{rates.limits().likely_hours:.0f} h"
    yield Snag(
        weight=35,
        subject="Sky",
        sentence=f"{count} more than {hours} after the forecast was issued, from {when(first, reading.line.zone)} on: only likely, so not a go yet.",
        mend="Look again when a newer forecast is in.",
        setting="sky",
    )


def _running(reading: Reading) -> Iterator[Snag]:
    """Spraying under way that may not end long enough before its hours do."""
    for rows in board_strips.visits(reading).values():
        for visit in rows:
            stage = visit.stage
            going = stage.state == Stage.State.UNDER_WAY
            if going and stage.family == "spray" and visit.span.start < reading.now:
                yield from _spare(reading, visit)


def _spare(reading: Reading, visit: Visit) -> Iterator[Snag]:
    ahead = Span(min(reading.now, visit.span.start), reading.horizon.end)
    window = next(
        (
            w
            for w in windows.of(visit.stage, ahead)
            if w.span.start <= visit.span.start and visit.span.end <= w.span.end
        ),
        None,
    )
    if window is None or window.after is None:
        return
    late = late_days.of(reading).get(visit.name, visit.span).end
    spare, wanted = _minutes(late, window.span.end), rates.board().sky_spare_minutes
    if spare < wanted:
        zone = reading.line.zone
        left = (
            f"{lasting(spare)} to spare" if spare >= 0 else f"{lasting(spare)} too late"
        )
        yield Snag(
            weight=45,
            subject=visit.stage.job.boat.name,
            stage=visit.name,
            sentence=(
                f"“{visit.stage.name}” ends {when(_ends(reading, visit), zone)}, {when(late, zone)} if the day runs over as one in "
                f"five does: {left}, wanted {wanted:.0f} min. At {when(window.span.end, zone)}: {window.after.sentence}."
            ),
            about=f"spare:{visit.name}",
        )


def _ends(reading: Reading, visit: Visit) -> datetime:
    """When a visit ends: as planned, or as long as one under way is thought to take."""
    stands = getattr(visit.stage, "visit", None)
    if visit.stage.state != Stage.State.UNDER_WAY or stands is None:
        return visit.span.end
    return begun.takes(stands, reading.now).end


def _too_early(reading: Reading, visit: Visit, rows: Sequence[Visit]) -> Iterator[Snag]:
    """Work on film that sets by the forecast, and would not if its hours came colder."""
    later = [moment for moment in latest(visit, rows) if moment > visit.span.start]
    if later:
        zone, early = reading.line.zone, _minutes(visit.span.start, max(later))
        yield Snag(
            weight=58,
            subject=visit.stage.job.boat.name,
            stage=visit.name,
            sentence=f"“{visit.stage.name}” starts {when(visit.span.start, zone)}; should the hours come colder, the film is ready {when(max(later), zone)}, {lasting(early)} later.",
            mend="Read the hull and try the film before the first stroke.",
            about=f"early:{visit.name}",
        )


def latest(visit: Visit, rows: Sequence[Visit]) -> Iterator[datetime]:
    """When each film that a visit works on is ready, should its hours come colder; among the visits of one job."""
    for link in visit.stage.links.all():
        before = next((v for v in rows if v.stage.pk == link.before_id), None)
        if before is not None and link.min_ref_h is not None:
            times = holds.sets(before.stage, before.span.end, link.min_ref_h)
            if times and times.latest:
                yield times.latest


def _minutes(start: datetime, end: datetime) -> float:
    return (end - start).total_seconds() / 60
