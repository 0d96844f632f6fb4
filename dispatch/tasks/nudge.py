"""Have a worker sweep at once, where somebody waits; the clock's own sweep takes up whatever this misses."""

import logging
from time import monotonic

from celery import current_app
from celery.exceptions import OperationalError

from dispatch.tasks.sweep import LANES

_log = logging.getLogger(__name__)
# A page waits for this: a broker that is away, or accepts and says nothing, is given up within a second.
_BRIEF = {
    "socket_timeout": 0.3,
    "socket_connect_timeout": 0.3,
    "connect_retries_timeout": 0.4,
    "max_retries": 1,
    "interval_start": 0.0,
    "interval_step": 0.0,
}
# One that is away is not asked again by every page meanwhile.
REST_S = 30.0


class _Broker:
    """Until when the broker is left alone, by the machine's steady clock."""

    rests_until = 0.0


def sweep_soon() -> None:
    """Ask for a sweep now; a broker that is away is logged and left alone for a while, never raised."""
    if monotonic() < _Broker.rests_until:
        return
    try:
        with current_app.connection_for_write() as connection:
            connection.transport_options = {
                **(connection.transport_options or {}),
                **_BRIEF,
            }
            for lane in LANES:
                # No later than the clock's own next few: by then it is of no use.
                current_app.send_task(
                    lane.name, expires=15, retry=False, connection=connection
                )
    except OperationalError as error:
        _Broker.rests_until = monotonic() + REST_S
        _log.warning(
            "No worker could be told of new work (%s). The clock's next sweep takes it up.",
            error,
        )
