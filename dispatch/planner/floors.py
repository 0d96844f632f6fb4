"""What keeps a visit from starting sooner."""

from collections.abc import Callable, Iterator

from dispatch.planner.around import Around, Hold, driving, lasting
from dispatch.planner.plan import Tow
from dispatch.planner.problem import lag_minutes


def of(around: Around) -> Iterator[Hold]:
    """Yield each thing that bounds the start from below, with the least start it allows."""
    for part in _PARTS:
        yield from part(around)


def _window(around: Around) -> Iterator[Hold]:
    for start, end in around.stage.windows:
        if start <= around.visit.start and around.visit.end <= end:
            yield Hold(
                code="window",
                minute=start,
                sentence=f"Its window opens at {around.at(start)}.",
            )


def _lag(around: Around) -> Iterator[Hold]:
    visits = around.plan.visits()
    for after in around.stage.after:
        if after.stage in visits:
            end = visits[after.stage][1].end
            lag = lag_minutes(after.min_lag, end) or 0
            waits = f"{lasting(lag)} after it" if lag else "after it"
            yield Hold(
                code="lag",
                minute=end + lag,
                sentence=f"{after.stage} ends at {around.at(end)}, and this may start {waits}.",
                other=after.stage,
            )


def _way(around: Around) -> Iterator[Hold]:
    """Yield the drive from the stop before, or from base when duty begins."""
    problem, here = around.problem, around.stage.place
    last = around.neighbour(-1)
    if last is not None:
        drive = problem.drive_min[around.place(last, leaving=True)][here]
        leaves = (
            f"The team has brought {last.trailer} by"
            if isinstance(last, Tow)
            else f"The team leaves {last.stage} at"
        )
        pause = around.pause(last.end, around.visit.start)
        yield Hold(
            code="drive",
            minute=around.free_from(last.end, drive),
            sentence=f"{leaves} {around.at(last.end)}{driving(drive)}{pause}.",
            other="" if isinstance(last, Tow) else last.stage,
        )
        return
    drive = problem.drive_min[problem.vans[around.van_day.van].base][here]
    pause = around.pause(around.van_day.depart, around.visit.start)
    for name, duty in around.duty():
        yield Hold(
            code="duty",
            minute=around.free_from(max(duty[0], problem.now), drive),
            sentence=f"{name} is on duty from {around.at(duty[0])}{driving(drive)}{pause}.",
        )


def _boat(around: Around) -> Iterator[Hold]:
    for visit, held in around.boat_mates():
        if visit.start < around.visit.start:
            yield Hold(
                code="boat",
                minute=held,
                sentence=f"{visit.stage} keeps the boat until {around.at(held)}.",
                other=visit.stage,
            )


def _trailer(around: Around) -> Iterator[Hold]:
    here = around.problem.places[around.stage.place]
    for need in around.stage.trailers:
        for tow in around.tows(need.kind):
            if tow.to == here and tow.end <= around.visit.start:
                yield Hold(
                    code="trailer",
                    minute=tow.end,
                    sentence=f"{tow.trailer} is there from {around.at(tow.end)}.",
                )


def _wishes(around: Around) -> Iterator[Hold]:
    """Yield what was told, and the risk of a sooner start: both may be overruled for money."""
    told, name = around.problem.standing, around.stage.id
    if told is not None and name in told.visits:
        at, near = told.visits[name], told.tolerance_min
        yield Hold(
            code="told",
            minute=at - near,
            sentence=f"People were told {around.at(at)}, give or take {near} minutes.",
            wish=True,
        )
    for _, end, cents in around.stage.risk:
        if cents and end <= around.visit.start:
            yield Hold(
                code="risk",
                minute=end,
                sentence=f"A start before {around.at(end)} risks ${cents / 100:,.2f}.",
                wish=True,
            )


def _now(around: Around) -> Iterator[Hold]:
    if around.problem.now:
        yield Hold(
            code="now",
            minute=around.problem.now,
            sentence=f"It is {around.at(around.problem.now)}.",
        )


def _pin(around: Around) -> Iterator[Hold]:
    if around.stage.pinned is not None:
        at = around.stage.pinned.start
        yield Hold(code="pin", minute=at, sentence=f"It is pinned to {around.at(at)}.")


_PARTS: tuple[Callable[[Around], Iterator[Hold]], ...] = (
    _pin,
    _window,
    _lag,
    _way,
    _boat,
    _trailer,
    _wishes,
    _now,
)
