"""A forecast that has grown old, as when its source is down: by which nobody lays a two-part product unasked."""

from collections.abc import Iterator

import numpy as np

from dispatch.trade import rulebook
from dispatch.trade.condition import Condition, always
from dispatch.trade.samples import Samples
from dispatch.trade.sky import Sky
from dispatch.trade.work import Work


def check(work: Work, sky: Sky, grid: Samples) -> Iterator[Condition]:
    """The condition that two-part film keeps while the forecast is too old; hours entered by hand since are not."""
    age, most = sky.age_hours, work.limits.ask_hours
    if work.sheet is None or work.sheet.kind != "two-part" or age <= most:
        return
    old = np.ones(len(grid.unix), dtype=np.bool_)
    if sky.hand is not None:
        start, end = sky.hand.start.timestamp(), sky.hand.end.timestamp()
        old = ~((grid.unix >= start) & (grid.unix < end))
    yield Condition(
        code="old-forecast",
        fails=old,
        excess=np.zeros(len(grid.unix)),
        say=always(
            f"the forecast was issued {age:.0f} h ago; past {most:.0f} h two-part is not sprayed by it without asking the owner",
            age_hours=age,
            limit_hours=most,
        ),
        strength=rulebook.strength("old-forecast"),
    )
