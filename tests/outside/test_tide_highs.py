"""Heights and high waters against UTide, an open library for the analysis of tides (D. L. Codiga's method), at any time.

UTide has its node factors and arguments from the tables of the Institute of Ocean Sciences (M. Foreman), by the sums of
Doodson's satellites; the house has other series. So 2 cm and 4 minutes are granted: a float is kept to by the quarter
hour. Amplitudes and lags are drawn, as no station's were at hand in print.
"""

from datetime import UTC, datetime, timedelta

import numpy as np
import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st
from utide._ut_constants import ut_constants
from utide.harmonics import FUV

from plugins.tide_gate.harmonics import Constant, height_m
from tests.outside.test_tide import CONSTANTS

# Days from the year 1 to 1970, as UTide counts them.
EPOCH = datetime(1970, 1, 1).toordinal()  # noqa: DTZ001 - a day's number has no zone
NAMES = [name.strip() for name in ut_constants.const.name]
LATITUDE, MEAN_M, STEP = 44.0, 1.5, timedelta(minutes=3)
pytestmark = pytest.mark.timeout(120)
HALF_DAILY = {"M2": 1.2, "S2": 0.3, "N2": 0.3, "K2": 0.1, "K1": 0.2, "O1": 0.2}


def theirs(constants: list[Constant], moments: list[datetime]) -> np.ndarray:
    """The other program's heights, in metres."""
    days = np.array([at.timestamp() / 86400 + EPOCH for at in moments])
    kinds = np.array([NAMES.index(one.name) for one in constants])
    factor, shift, argument = FUV(days, days.mean(), kinds, LATITUDE, [0, 0, 0, 0])
    lag = np.radians([one.lag_deg for one in constants])
    high = np.array([one.amplitude_m for one in constants])
    angle = 2 * np.pi * (shift + argument) - lag
    return MEAN_M + (factor * high * np.cos(angle)).sum(axis=1)


def highs(moments: list[datetime], heights: np.ndarray) -> list[datetime]:
    return [
        moments[n]
        for n in range(1, len(moments) - 1)
        if heights[n - 1] < heights[n] >= heights[n + 1]
    ]


def day_of(start: datetime) -> list[datetime]:
    return [start + n * STEP for n in range(26 * 20)]


MOMENTS = st.datetimes(datetime(1990, 1, 1), datetime(2050, 1, 1)).map(  # noqa: DTZ001 - made aware at once
    lambda naive: naive.replace(tzinfo=UTC)
)
STATIONS = st.lists(
    st.floats(0, 359), min_size=len(HALF_DAILY), max_size=len(HALF_DAILY)
).map(
    lambda lags: [
        Constant(name=name, amplitude_m=high, lag_deg=lag)
        for (name, high), lag in zip(HALF_DAILY.items(), lags, strict=True)
    ]
)


@settings(max_examples=12, deadline=None)
@example(start=datetime(2028, 2, 29, tzinfo=UTC), constants=CONSTANTS)
@given(start=MOMENTS, constants=STATIONS)
def test_heights_and_high_waters_are_those_of_the_other_program(start, constants):
    moments = day_of(start)
    ours = np.array([height_m(constants, MEAN_M, at) for at in moments])
    other = theirs(constants, moments)
    assert ours == pytest.approx(other, abs=0.02)
    found, wanted = highs(moments, ours), highs(moments, other)
    # A high water at the very edge may be in one and not in the other.
    inside = [at for at in wanted if moments[5] < at < moments[-6]]
    assert inside
    for at in inside:
        assert min(abs(at - one) for one in found) <= timedelta(minutes=4)
