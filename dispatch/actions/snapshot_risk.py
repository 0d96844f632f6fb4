"""What a sprayed visit that begins late in its hours may cost: the nearer the end of them, the dearer."""

from collections.abc import Container, Iterable, Iterator, Mapping
from datetime import timedelta

from dispatch.actions import rates, runs_over
from dispatch.actions.timeline import Timeline
from dispatch.records.models import Stage
from dispatch.trade.buffer import tight_starts
from dispatch.trade.window import Window


def of(
    line: Timeline,
    stage: Stage,
    own: Mapping[str, int],
    found: Iterable[Window],
    known: Container[int],
) -> Iterator[list[int]]:
    """The starts that leave too little to spare and their cents, as a week problem has them.

    Of the quickest team, on a day on which this visit alone runs over. A visit that lays no film has none,
    nor has a window that no rule of the sky, the product or the place ends.
    """
    if stage.family != "spray":
        return
    size = min(own, key=lambda one: own[one])
    over = stage.minutes[size] * (runs_over.late_factor(stage.job, known) - 1)
    for one in found:
        if one.after is not None:
            start = line.minute(one.span.start + timedelta(seconds=59))
            for row in tight_starts(
                (start, line.minute(one.span.end)),
                takes=own[size],
                over=over,
                spare=rates.board().sky_spare_minutes,
                cents=rates.planning().tight_sky_cents,
            ):
                yield list(row)
