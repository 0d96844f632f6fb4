"""What keeps a visit from starting later."""

from collections.abc import Callable, Iterator

from dispatch.planner.around import Around, Hold, driving, lasting
from dispatch.planner.plan import Tow
from dispatch.planner.problem import lag_minutes


def of(around: Around) -> Iterator[Hold]:
    """Yield each thing that bounds the start from above, with the last start it allows."""
    for part in _PARTS:
        yield from part(around)


def _window(around: Around) -> Iterator[Hold]:
    for start, end in around.stage.windows:
        if start <= around.visit.start and around.visit.end <= end:
            yield Hold(
                code="window",
                minute=end - around.minutes,
                sentence=f"Its window closes at {around.at(end)}, and it takes {around.minutes} minutes.",
            )


def _longest_lag(around: Around) -> Iterator[Hold]:
    visits = around.plan.visits()
    for after in around.stage.after:
        if after.stage in visits and after.max_lag is not None:
            end = visits[after.stage][1].end
            lag = lag_minutes(after.max_lag, end)
            if lag is not None:
                yield Hold(
                    code="lag",
                    minute=end + lag,
                    sentence=f"It must start within {lasting(lag)} of {after.stage}, which ends at {around.at(end)}.",
                )


def _next_stage(around: Around) -> Iterator[Hold]:
    for name, (_, visit) in around.plan.visits().items():
        for after in around.problem.stages[name].after:
            if after.stage == around.stage.id:
                lag = lag_minutes(after.min_lag, around.visit.end) or 0
                waits = f", {lasting(lag)} after this at the earliest" if lag else ""
                yield Hold(
                    code="next",
                    minute=visit.start - lag - around.minutes,
                    sentence=f"{name} follows at {around.at(visit.start)}{waits}.",
                    other=name,
                )


def _way(around: Around) -> Iterator[Hold]:
    """Yield the drive to the stop after, or home before duty ends."""
    problem, here = around.problem, around.stage.place
    then = around.neighbour(1)
    if then is not None:
        drive = problem.drive_min[here][around.place(then, leaving=False)]
        due = (
            f"The team is due to fetch {then.trailer}"
            if isinstance(then, Tow)
            else f"The team is due at {then.stage}"
        )
        pause = around.pause(around.visit.end, then.start)
        yield Hold(
            code="drive",
            minute=around.leave_by(drive, then.start) - around.minutes,
            sentence=f"{due} at {around.at(then.start)}{driving(drive)}{pause}.",
            other="" if isinstance(then, Tow) else then.stage,
        )
        return
    drive = problem.drive_min[here][problem.vans[around.van_day.van].base]
    pause = around.pause(around.visit.end, around.van_day.back)
    for name, duty in around.duty():
        yield Hold(
            code="duty",
            minute=around.leave_by(drive, duty[1]) - around.minutes,
            sentence=f"{name} is on duty until {around.at(duty[1])}{driving(drive, ' home')}{pause}.",
        )


def _boat(around: Around) -> Iterator[Hold]:
    for visit, _ in around.boat_mates():
        if visit.start > around.visit.start:
            cures = f", and this holds it for {lasting(around.hold)}" * bool(
                around.hold
            )
            yield Hold(
                code="boat",
                minute=visit.start - around.hold - around.minutes,
                sentence=f"{visit.stage} has the boat from {around.at(visit.start)}{cures}.",
                other=visit.stage,
            )


def _trailer(around: Around) -> Iterator[Hold]:
    here = around.problem.places[around.stage.place]
    for need in around.stage.trailers:
        stays = lag_minutes(need.stays_min, around.visit.end) or 0
        for tow in around.tows(need.kind):
            if tow.origin == here and tow.start >= around.visit.end:
                after = (
                    f", {lasting(stays)} after this at the earliest" if stays else ""
                )
                yield Hold(
                    code="trailer",
                    minute=tow.start - stays - around.minutes,
                    sentence=f"{tow.trailer} leaves at {around.at(tow.start)}{after}.",
                )


def _wishes(around: Around) -> Iterator[Hold]:
    """Yield what was told, the promise and the risk of a later start: money may overrule them."""
    told, stage = around.problem.standing, around.stage
    job = around.problem.jobs[stage.job]
    if told is not None and stage.id in told.visits:
        at, near = told.visits[stage.id], told.tolerance_min
        yield Hold(
            code="told",
            minute=at + near,
            sentence=f"People were told {around.at(at)}, give or take {near} minutes.",
            wish=True,
        )
    if job.promise is not None and job.late_cents_per_hour:
        hour = f"${job.late_cents_per_hour / 100:,.2f}"
        yield Hold(
            code="promise",
            minute=job.promise - around.hold - around.minutes,
            sentence=f"Its job is promised for {around.at(job.promise)}; each hour late costs {hour}.",
            wish=True,
        )
    for start, _, cents in stage.risk:
        if cents and start > around.visit.start:
            yield Hold(
                code="risk",
                minute=start - 1,
                sentence=f"A start from {around.at(start)} on risks ${cents / 100:,.2f}.",
                wish=True,
            )


def _pin(around: Around) -> Iterator[Hold]:
    if around.stage.pinned is not None:
        at = around.stage.pinned.start
        yield Hold(code="pin", minute=at, sentence=f"It is pinned to {around.at(at)}.")


_PARTS: tuple[Callable[[Around], Iterator[Hold]], ...] = (
    _pin,
    _window,
    _longest_lag,
    _next_stage,
    _way,
    _boat,
    _trailer,
    _wishes,
)
