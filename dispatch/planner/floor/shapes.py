"""The arrays outings are priced over; minutes from the horizon's start, cents in floats."""

from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

Ints = NDArray[np.int64]
Floats = NDArray[np.float64]
Bools = NDArray[np.bool_]

MOST_LABELS = 60_000
MOST_STOPS = 24
MOST_BITS = 62


class Starts(NamedTuple):
    """The pieces a van may do on a day with a team of one size, a row each."""

    stage: Ints
    place: Ints  # where the van must be when it starts
    leave: Ints  # and where it is afterwards: the same, but for a tow
    low: Ints
    high: Ints
    shut: Ints
    minutes: Ints
    pausable: Bools
    gain: Floats


class Ground(NamedTuple):
    """Shortest minutes and cents between places; which stage cannot follow which in a van-day."""

    minutes: Ints
    cents: Floats
    never_after: Bools


class Outset(NamedTuple):
    """How a van-day begins: from when and where, minutes already worked; until when; the break's rule."""

    since: int
    until: int
    slack: int
    place: int
    home: int
    gone: int
    idle: int  # 1: under way, and may go home at once
    rested: int
    rest: int
    rest_from: int
    rest_to: int
    after: int


class Crews(NamedTuple):
    """Teams of one size, a row each: wage a minute, cents whatever they do, their duty, what they can do."""

    wage: Floats
    cents: Floats
    since: Ints
    until: Ints
    able: Bools


class Found(NamedTuple):
    """The best outing of each team: reduced cents, minutes worked, and rows of `Starts` in order.

    A row of `rows` ends with -2 where there is an outing, and begins with -1 where there is none.
    """

    cents: Floats
    worked: Ints
    tried: Ints
    rows: Ints
