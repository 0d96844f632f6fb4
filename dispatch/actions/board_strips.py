"""A boat's strip: hands, wet film, setting film and waits, one after another without a gap."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta
from itertools import pairwise

from dispatch.actions import (
    board_films,
    board_words,
    held_for_owner,
    holds,
    one_moment,
    visit_sky,
    windows,
)
from dispatch.actions.board import Film, Segment, SegmentKind, SkyMark
from dispatch.actions.board_reading import Reading
from dispatch.records.models import Stage
from dispatch.trade.spans import Span, intersect


@dataclass(frozen=True, kw_only=True)
class Visit:
    """A team on a boat: planned, or done and known from its row; ``held`` where she is held for the owner, so that it comes to nothing."""

    stage: Stage
    name: str
    span: Span
    team: tuple[str, ...]
    done: bool
    held: bool = False


def visits(reading: Reading) -> dict[str, list[Visit]]:
    """Every visit of the week by its job's key, in order of time: those done, then those planned."""
    return one_moment.once(("visits", reading.plan.pk), lambda: _visits(reading))


def _visits(reading: Reading) -> dict[str, list[Visit]]:
    found: dict[str, list[Visit]] = {job.key: [] for job in reading.jobs}
    for visit in (*_done(reading), *_planned(reading)):
        found[visit.stage.job.key].append(visit)
    return {
        job: sorted(rows, key=lambda v: v.span.start) for job, rows in found.items()
    }


def _planned(reading: Reading) -> Iterable[Visit]:
    held = held_for_owner.jobs()
    for row in reading.van_days:
        for stop in row["stops"]:
            stage = reading.stages.get(stop.get("stage", ""))
            if stage is not None and stage.state != Stage.State.DONE:
                yield Visit(
                    stage=stage,
                    name=stop["stage"],
                    span=reading.span(stop["start"], stop["end"]),
                    team=tuple(row["team"]),
                    done=False,
                    held=stage.job_id in held,
                )


def _done(reading: Reading) -> Iterable[Visit]:
    """Stages done within the week; one whose start nobody noted is left to its film."""
    for name, stage in reading.stages.items():
        start, end = stage.started_at, stage.ended_at
        if start and end and reading.horizon.start <= start < end:
            yield Visit(
                stage=stage,
                name=name,
                span=Span(start, end),
                team=_who(stage),
                done=True,
            )


def _who(stage: Stage) -> tuple[str, ...]:
    """The keys of those who did a stage; none where it was in no posted week."""
    visit = getattr(stage, "visit", None)
    return tuple(one.key for one in visit.van_day.team.all()) if visit else ()


def segments(
    reading: Reading, made: Sequence[Visit], laid: Sequence[Film]
) -> tuple[Segment, ...]:
    """The strip, from the first hand laid to the last film set, inside the week."""
    whole = _whole(reading, made, laid)
    if whole is None:
        return ()
    edges = sorted(
        {
            edge
            for edge in (*_edges(made), *_film_edges(laid), whole.start, whole.end)
            if whole.start <= edge <= whole.end
        }
    )
    pieces = [
        (_kind(start, made, laid), Span(start, end)) for start, end in pairwise(edges)
    ]
    return tuple(
        _segment(reading, kind, span, made, laid) for kind, span in _joined(pieces)
    )


def _edges(made: Sequence[Visit]) -> Iterable[datetime]:
    for visit in made:
        yield visit.span.start
        yield visit.span.end


def _film_edges(laid: Sequence[Film]) -> Iterable[datetime]:
    for film in laid:
        yield from (m for m in (film.rain_safe, film.sandable) if m is not None)


def _whole(
    reading: Reading, made: Sequence[Visit], laid: Sequence[Film]
) -> Span | None:
    horizon = reading.horizon
    starts = [
        *(visit.span.start for visit in made),
        *(film.laid_at for film in laid),
    ]
    if not starts:
        return None
    start = max(min(starts), horizon.start)
    never = any(board_films.sets(film) is None for film in laid)
    ends = [
        *(visit.span.end for visit in made),
        *(film.laid_at for film in laid),
        *(moment for film in laid if (moment := board_films.sets(film)) is not None),
    ]
    end = horizon.end if never else min(max(ends), horizon.end)
    return Span(start, end) if end > start else None


def _kind(
    moment: datetime, made: Sequence[Visit], laid: Sequence[Film]
) -> tuple[SegmentKind, str]:
    """What she is at a moment, with the stage's name where hands are on her."""
    for visit in made:
        if visit.span.holds(moment):
            return ("held" if visit.held else "hands"), visit.name
    down = [film for film in laid if film.laid_at <= moment]
    if any(film.rain_safe is None or moment < film.rain_safe for film in down):
        return "wet", ""
    if any(
        film.sands and (film.sandable is None or moment < film.sandable)
        for film in down
    ):
        return "setting", ""
    return "waiting", ""


def _joined(
    pieces: Sequence[tuple[tuple[SegmentKind, str], Span]],
) -> list[tuple[tuple[SegmentKind, str], Span]]:
    out: list[tuple[tuple[SegmentKind, str], Span]] = []
    for kind, span in pieces:
        if out and out[-1][0] == kind:
            out[-1] = (kind, Span(out[-1][1].start, span.end))
        else:
            out.append((kind, span))
    return out


def _segment(
    reading: Reading,
    kind: tuple[SegmentKind, str],
    span: Span,
    made: Sequence[Visit],
    laid: Sequence[Film],
) -> Segment:
    what, stage = kind
    visit = next((v for v in made if v.name == stage), None)
    if visit is not None and visit.held:
        words = f"{visit.stage.name}: off, as she is held for you"
        return Segment(kind="held", span=span, words=words, stage=stage)
    if visit is not None:
        people = tuple(reading.name(person) for person in visit.team)
        who = f", {board_words.names(people)}" if people else ""
        sky, said = _sky(reading, visit)
        return Segment(
            kind="hands",
            span=span,
            words=f"{visit.stage.name}{who}{' (done)' if visit.done else ''}{'; made fast' if _fast(visit) else ''}{said}",
            stage=stage,
            initials=tuple(reading.initials(person) for person in visit.team),
            people=people,
            under_way=visit.stage.state == Stage.State.UNDER_WAY,
            sky=sky,
            fast=_fast(visit),
        )
    if what == "waiting":
        return Segment(kind=what, span=span, words=_waits(reading, span, made))
    words, film = _setting(reading, what, span, laid)
    return Segment(kind=what, span=span, words=words, stage=film)


def _fast(visit: Visit) -> bool:
    """Whether the owner made a visit fast where this plan has it."""
    pin = getattr(visit.stage, "pin", None)
    return not visit.done and pin is not None and pin.start == visit.span.start


def _sky(reading: Reading, visit: Visit) -> tuple[SkyMark, str]:
    """How a visit still to come is marked by the sky, and in words."""
    if visit.done or visit.span.start < reading.now:
        return "", ""
    says = visit_sky.of(visit.stage, visit.span, reading.now)
    if says.word == visit_sky.FORBIDS:
        return "forbids", f"; the sky no longer allows it. {says.why}"
    if says.likely:
        return "likely", "; the sky there is only likely"
    if says.word == visit_sky.UNKNOWN:
        return "unknown", f"; the sky there is not known. {says.why}"
    return "", ""


def _setting(
    reading: Reading, what: SegmentKind, span: Span, laid: Sequence[Film]
) -> tuple[str, str]:
    """What a strip says of film that is down, and the stage whose film it is."""
    down = [film for film in laid if film.laid_at <= span.start]
    zone = reading.line.zone
    if what == "wet":
        never = next((film for film in down if film.rain_safe is None), None)
        if never is not None:
            told = _never(reading, never) or "no rain-safe time is forecast"
            return f"wet: keep off; {told}", never.stage
        wettest = max(down, key=lambda film: film.rain_safe or film.laid_at)
        until = board_words.when(wettest.rain_safe or wettest.laid_at, zone)
        return f"wet: keep off; rain-safe about {until}", wettest.stage
    sanding = [film for film in down if film.sands]
    never = next((film for film in sanding if film.sandable is None), None)
    if never is not None:
        told = _never(reading, never) or "no sandable time is forecast"
        return f"setting: {told}", never.stage
    last = max(sanding, key=lambda film: film.sandable or film.laid_at)
    about, early, late = (
        board_words.when(moment, zone) if moment else "not within this forecast"
        for moment in (last.sandable, last.earliest, last.latest)
    )
    told = f"sandable about {about}, earliest {early}, latest {late}{last.aging}"
    return f"setting: {told}", last.stage


def _never(reading: Reading, film: Film) -> str:
    """That film does not set because it is too cold; empty where its end is only not forecast."""
    stage = reading.stages.get(film.stage)
    cold = stage is not None and holds.too_cold(stage, film.laid_at)
    return "it will not set by this forecast: too cold" if cold else ""


def _waits(reading: Reading, span: Span, made: Sequence[Visit]) -> str:
    """What she waits for: the yard, the sky or hands, by the next stage's own hours."""
    following = next((v for v in made if v.span.start >= span.end), None)
    if following is None:
        return "waits"
    if following.held:
        return "waits for you: she is held"
    stage, where = following.stage, following.stage.job.boat.place
    if _startable(reading, following.name, span, min(stage.minutes.values())):
        return f"waits for hands: {stage.name}"
    if not intersect(windows.access(where, span), [span]):
        return f"waits until {where.name} opens"
    return f"waits for the sky: {stage.name}"


def _startable(reading: Reading, name: str, span: Span, quickest: int) -> bool:
    """Whether the stage could have begun within a span, by the hours it had when the week was built."""
    rows = (row for row in reading.problem["stages"] if row["id"] == name)
    for start, end in next(rows, {"windows": ()})["windows"]:
        begins = max(reading.line.moment(start), span.start)
        ends = begins + timedelta(minutes=quickest)
        if begins < span.end and ends <= reading.line.moment(end):
            return True
    return False
