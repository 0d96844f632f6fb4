"""Where trailers stand, and whether each visit that needs one has it to itself."""

from collections import defaultdict
from collections.abc import Iterator
from dataclasses import dataclass
from math import inf

from dispatch.planner.plan import Plan, Tow
from dispatch.planner.problem import Problem, lag_minutes


@dataclass(frozen=True, kw_only=True, slots=True)
class Stand:
    """A trailer at a place for a while."""

    trailer: str
    kind: str
    place: str
    since: float
    until: float


@dataclass(frozen=True, kw_only=True, slots=True)
class Want:
    """A visit's need of a kind of trailer for a span, and which could serve it."""

    stage: str
    boat: str
    start: int
    end: int
    able: frozenset[str]


def faults(problem: Problem, plan: Plan) -> list[str]:
    """Return a sentence for each trailer rule the plan breaks."""
    found: list[str] = []
    stands: list[Stand] = []
    for name in problem.trailers:
        tows = [s for vd in plan.van_days for s in vd.stops if isinstance(s, Tow)]
        mine = sorted((t for t in tows if t.trailer == name), key=lambda t: t.start)
        found += _walk(problem, name, mine, stands)
    wants: dict[str, list[Want]] = defaultdict(list)
    found += _wants(problem, plan, stands, wants)
    for kind, rows in wants.items():
        rows.sort(key=lambda w: w.start)
        for run in _runs(rows):
            if not _share(run, {}):
                names = ", ".join(sorted(w.stage for w in run))
                found.append(f"{names} need one {kind} for two boats at once.")
    return found


def _walk(
    problem: Problem, name: str, tows: list[Tow], stands: list[Stand]
) -> Iterator[str]:
    trailer = problem.trailers[name]
    place, since = problem.places[trailer.place], -inf
    for tow in tows:
        if tow.origin != place or tow.start < since:
            yield f"Trailer {name} is moved from {tow.origin} at {tow.start}, but stands at {place} from {since}."
        stands.append(
            Stand(
                trailer=name,
                kind=trailer.kind,
                place=place,
                since=since,
                until=tow.start,
            )
        )
        place, since = tow.to, tow.end
    stands.append(
        Stand(trailer=name, kind=trailer.kind, place=place, since=since, until=inf)
    )


def _wants(
    problem: Problem, plan: Plan, stands: list[Stand], wants: dict[str, list[Want]]
) -> Iterator[str]:
    for name, (_, visit) in plan.visits().items():
        stage = problem.stages[name]
        place, boat = problem.places[stage.place], problem.jobs[stage.job].boat
        for need in stage.trailers:
            stays = lag_minutes(need.stays_min, visit.end)
            if stays is None:
                yield f"{name} ends at {visit.end}, outside the table for its {need.kind}."
                continue
            end = visit.end + stays
            able = frozenset(
                s.trailer
                for s in stands
                if (s.kind, s.place) == (need.kind, place)
                and s.since <= visit.start
                and end <= s.until
            )
            if not able:
                yield f"{name} has no {need.kind} at {place} through {visit.start}-{end}."
                continue
            want = Want(stage=name, boat=boat, start=visit.start, end=end, able=able)
            wants[need.kind].append(want)


def _runs(rows: list[Want]) -> list[list[Want]]:
    """Split wants in order of start where nothing overlaps: only neighbours can clash."""
    runs: list[list[Want]] = []
    top = -1
    for want in rows:
        if not runs or want.start >= top:
            runs.append([])
        runs[-1].append(want)
        top = max(top, want.end)
    return runs


def _share(rows: list[Want], given: dict[str, list[Want]]) -> bool:
    """Whether the wants can be shared out, one boat at a time for each trailer."""
    if not rows:
        return True
    want, rest = rows[0], rows[1:]
    for trailer in sorted(want.able):
        held = given.get(trailer, [])
        clash = any(
            w.boat != want.boat and w.start < want.end and want.start < w.end
            for w in held
        )
        if not clash and _share(rest, {**given, trailer: [*held, want]}):
            return True
    return False
