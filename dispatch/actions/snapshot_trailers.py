"""Where trailers and canopies stand in a week under way, and which must stay over film that is not rain-safe yet."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from dispatch.actions import covered
from dispatch.actions.begun import Left, Stay
from dispatch.actions.timeline import Timeline
from dispatch.records.models import Hold, Standing, Tow

Row = dict[str, Any]


@dataclass(frozen=True, kw_only=True)
class Settled:
    """Which moves up to now count, by their row's number; each trailer's kind, its place now and since which minute."""

    line: Timeline
    now: int
    moves: frozenset[int]
    stands: Mapping[str, tuple[str, str, int]]


def settled(found: Row, line: Timeline, left: Sequence[Left]) -> Settled:
    """Put each trailer of a problem where its moves so far begin.

    Where somebody found it elsewhere since, or its moves do not follow one another, it stands where it was
    seen or brought last and no move counts. A roof that is asked for over a boat, or on, stands where she lies.
    """
    moves: set[int] = set()
    stands = {}
    for thing in found["trailers"]:
        made = sorted(_moves(left, thing["id"]), key=lambda tow: tow.start)
        seen = _covers(thing["id"]) or _seen(line, thing["id"])
        since = 0
        if seen is not None:
            where, when = seen
            made = [tow for tow in made if tow.start >= when]
            thing["place"], since = where, line.minute(when)
        if _follow(made, thing["place"]):
            moves |= {tow.pk for tow in made}
        elif made:
            thing["place"] = made[-1].destination.key
        place = made[-1].destination.key if made else thing["place"]
        since = line.minute(made[-1].end) if made else since
        stands[thing["id"]] = (thing["kind"], place, since)
    return Settled(line=line, now=found["now"], moves=frozenset(moves), stands=stands)


def _moves(left: Sequence[Left], key: str) -> Iterator[Tow]:
    for one in left:
        yield from (tow for tow in one.tows if tow.equipment.key == key)


def _covers(key: str) -> tuple[str, datetime] | None:
    """Where it covers a boat, or is to, and since when somebody asked for it."""
    cover = covered.under(key)
    return (cover.job.boat.place.key, cover.asked_at) if cover else None


def _seen(line: Timeline, key: str) -> tuple[str, datetime] | None:
    """Where it was seen within the week, the last time up to now, and since when."""
    rows = Standing.objects.filter(
        equipment__key=key, since__gt=line.zero, since__lt=line.horizon.end
    )
    last = rows.select_related("place").order_by("-since").first()
    return (last.place.key, last.since) if last else None


def _follow(moves: Sequence[Tow], place: str) -> bool:
    for tow in moves:
        if tow.origin.key != place:
            return False
        place = tow.destination.key
    return True


def over_film(given: Settled, stay: Stay, stop: Row) -> list[Row]:
    """What must stand by a visit and after it: a cover over film stays until that is rain-safe."""
    place, wanted = stay.stage.job.boat.place.key, []
    for row in stay.stage.equipment:
        stays = _minutes_over(given, stay, stop) if row["until"] == "rain-safe" else 0
        by_it = any(
            kind == row["kind"] and at == place and since <= stop["start"]
            for kind, at, since in given.stands.values()
        )
        if by_it and stop["end"] + stays > given.now:
            wanted.append({"kind": row["kind"], "stays_min": stays})
    return wanted


def _minutes_over(given: Settled, stay: Stay, stop: Row) -> int:
    """Minutes from the visit's end until its film is rain-safe by the newest reckoning; none where it lays none.

    Where that is not reached by the forecast it stays to the week's end.
    """
    holds = [h for h in stay.stage.holds.all() if h.kind == Hold.Kind.RAIN_SAFE]
    ends = [given.line.minute(hold.end) for hold in holds if hold.end is not None]
    if holds and not ends:
        return max(0, given.line.days[-1][1] - int(stop["end"]))
    return max(0, max(ends, default=stop["end"]) - int(stop["end"]))


def over_covered(
    given: Settled, stays: Mapping[str, Stay], stops: Sequence[Row]
) -> Iterator[tuple[str, Row]]:
    """What keeps each roof that was asked for over a boat, or is on, with her till the last of her film is rain-safe.

    The visit that laid this film, and what must stand by it and after it. The roof stands there for the whole week as
    the problem has it, so that it may be said of a visit that was before the roof came.
    """
    for key, (kind, _, _) in given.stands.items():
        cover = covered.under(key)
        if cover is None:
            continue
        ends = {
            stop["stage"]: (stop["end"] + _minutes_over(given, stay, stop), stop["end"])
            for stop in stops
            if (stay := stays[stop["stage"]]).stage.job_id == cover.job_id
        }
        if not ends:
            continue
        name = max(ends, key=lambda one: ends[one])
        until, end = ends[name]
        if until > given.now:
            yield name, {"kind": kind, "stays_min": until - end}
