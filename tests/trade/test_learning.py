"""The learnt ratio: a median that leans to the newest. Weight 0.15 and its bounds are assumptions."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from dispatch.trade import learning


# By hand: weights 1, 0.85, 0.7225 make 2.5725, half 1.28625; in order of size 0.9 (0.85), 1.0 (1), 1.4 (0.7225).
@pytest.mark.parametrize(
    ("newest_first", "found"),
    [
        ([], None),
        ([1.3], 1.3),
        ([1.0, 0.9, 1.4], 1.0),
        ([5.0], 2.0),
        ([0.1, 0.2], 0.6),
        ([1.2] * 3 + [0.8] * 3, 1.2),
        ([0.8] * 3 + [1.2] * 3, 0.8),
    ],
)
def test_the_middle_leans_to_the_newest(newest_first, found):
    assert learning.ratio(newest_first) == found


@settings(deadline=None)
@given(st.lists(st.floats(0.01, 10), min_size=1, max_size=30))
def test_it_is_one_of_those_seen_or_a_bound(seen):
    found = learning.ratio(seen)
    assert 0.6 <= found <= 2.0
    assert found in seen or found in (0.6, 2.0)
