"""The order of giving way when the sky closes.

Wet film, half-sprayed boats, hard dates and fairness first: common practice; the days and the money are assumptions.
"""

from hypothesis import given, settings
from hypothesis import strategies as st

from dispatch.trade import bumping
from dispatch.trade.bumping import Boat

WASH = Boat(key="wash", bumped_first=True, cents_per_labour_hour=2000)
DEAR = Boat(key="dear", cents_per_labour_hour=9000)
CHEAP = Boat(key="cheap", cents_per_labour_hour=4000)
LIFT = Boat(key="lift", blocks_yard=True, cents_per_labour_hour=1000)
TWICE = Boat(key="twice", bumped=1, bumped_first=True, cents_per_labour_hour=500)
SALE = Boat(key="sale", hard_in_days=3, cents_per_labour_hour=100)
LATER = Boat(key="later", hard_in_days=3.1, cents_per_labour_hour=9500)
HALF = Boat(key="half", half_sprayed=True)
WET = Boat(key="wet", wet=True)


def keys(*boats):
    return [one.key for one in bumping.order(boats)]


def test_the_least_protected_gives_way_first():
    everyone = (WET, HALF, SALE, TWICE, LIFT, LATER, DEAR, CHEAP, WASH)
    wanted = ["wash", "cheap", "dear", "later", "lift", "twice", "sale", "half", "wet"]
    assert keys(*everyone) == wanted


def test_nobody_is_bumped_twice_but_by_the_owners_hand():
    (one,) = bumping.order([TWICE])
    assert one.by_hand
    assert "bumped once already" in one.reasons
    assert not bumping.order([DEAR])[0].by_hand


def test_reasons_tell_what_was_weighed():
    assert bumping.order([SALE])[0].reasons == (
        "hard date in 3 days",
        "$1 an hour of labour",
    )


boats = st.builds(
    Boat,
    key=st.uuids().map(str),
    wet=st.booleans(),
    half_sprayed=st.booleans(),
    hard_in_days=st.none() | st.floats(0, 30),
    bumped=st.integers(0, 3),
    blocks_yard=st.booleans(),
    bumped_first=st.booleans(),
    cents_per_labour_hour=st.floats(0, 20000),
)


@settings(deadline=None)
@given(st.lists(boats, max_size=8))
def test_wet_film_is_last_whatever_else_and_everyone_is_named_once(found):
    ranked = bumping.order(found)
    assert sorted(one.key for one in ranked) == sorted(one.key for one in found)
    wet = {one.key for one in found if one.wet}
    tail = [one.key for one in ranked][len(found) - len(wet) :]
    assert set(tail) == wet
