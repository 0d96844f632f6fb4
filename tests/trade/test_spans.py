"""Spans behave as sets of moments do."""

import itertools
from datetime import UTC, datetime, timedelta

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from dispatch.trade.spans import Span, at_least, intersect, normal, subtract, union

ZERO = datetime(2027, 5, 24, tzinfo=UTC)


def minute(number: int) -> datetime:
    return ZERO + timedelta(minutes=number)


def span(start: int, end: int) -> Span:
    return Span(minute(start), minute(end))


some = st.lists(
    st.tuples(st.integers(0, 50), st.integers(1, 10)).map(
        lambda pair: span(pair[0], pair[0] + pair[1])
    ),
    max_size=6,
)


def held(spans: list[Span] | tuple[Span, ...]) -> set[int]:
    """Every minute of the hour that some span holds."""
    return {m for m in range(70) if any(one.holds(minute(m)) for one in spans)}


@settings(deadline=None)
@given(left=some, right=some)
def test_spans_obey_the_rules_of_sets(left: list[Span], right: list[Span]) -> None:
    assert held(union(left, right)) == held(left) | held(right)
    assert held(intersect(left, right)) == held(left) & held(right)
    assert held(subtract(left, right)) == held(left) - held(right)


@settings(deadline=None)
@given(left=some, right=some)
def test_every_answer_is_in_order_and_never_touches(
    left: list[Span], right: list[Span]
) -> None:
    for answer in (
        normal(left),
        union(left, right),
        intersect(left, right),
        subtract(left, right),
    ):
        assert all(a.end < b.start for a, b in itertools.pairwise(answer))


def test_an_end_is_left_out() -> None:
    assert not span(0, 5).holds(minute(5))
    assert normal([span(0, 5), span(5, 9)]) == (span(0, 9),)


def test_only_long_spans_are_kept() -> None:
    kept = at_least([span(0, 5), span(10, 20)], timedelta(minutes=10))
    assert kept == (span(10, 20),)


@pytest.mark.parametrize("end", [0, -1])
def test_a_span_that_does_not_last_is_refused(end: int) -> None:
    with pytest.raises(ValueError, match="must end after it starts"):
        span(0, end)


def test_a_moment_without_a_zone_is_refused() -> None:
    naive = ZERO.replace(tzinfo=None)
    with pytest.raises(ValueError, match="time zone"):
        Span(naive, naive + timedelta(hours=1))
