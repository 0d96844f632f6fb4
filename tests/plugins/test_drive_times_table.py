"""Drives by distance, and as somebody timed them.

The great circle between two places an arc of one degree apart on the equator or a meridian is the mean radius
(IUGG: 6,371.0088 km) times pi/180 = 111.195 km.
"""

from dataclasses import replace

import pytest

from dispatch.hooks import registry, testing
from dispatch.hooks.manifest import InvalidOption
from dispatch.hooks.values import Leg, Spot
from dispatch.planner import travel
from tests.plugins.asks import DRIVES_ASK, found


def drives(ask=DRIVES_ASK, **options: str) -> dict[tuple[str, str], Leg]:
    legs = testing.answer(found("drive_times_table"), options, "drives", ask).legs
    return {(leg.origin, leg.destination): leg for leg in legs}


def test_every_drive_is_told_as_the_house_itself_reckons_it():
    legs = drives()
    places = DRIVES_ASK.destinations
    assert len(legs) == len(places) * (len(places) - 1)
    roads = travel.Roads()
    for a in places:
        for b in places:
            if a != b:
                spots = (a.latitude, a.longitude, b.latitude, b.longitude)
                leg = legs[a.key, b.key]
                assert (leg.minutes, leg.metres) == travel.drive(*spots, roads)


def test_a_degree_is_a_degree():
    ends = (
        Spot(key="a", latitude=0, longitude=0),
        Spot(key="b", latitude=0, longitude=1),
    )
    ask = replace(
        DRIVES_ASK,
        origins=ends,
        destinations=ends,
        circuity=1.0,
        km_per_hour=60.0,
        start_minutes=0.0,
    )
    leg = drives(ask)["a", "b"]
    assert leg.metres == pytest.approx(111_195, abs=1)
    assert leg.minutes == 112


def test_what_somebody_timed_is_told_both_ways():
    a, b, *_ = (spot.key for spot in DRIVES_ASK.destinations)
    legs = drives(pairs=f"{a} {b} 36 28.5")
    assert (legs[a, b].minutes, legs[a, b].metres) == (36, 28_500)
    assert (legs[b, a].minutes, legs[b, a].metres) == (36, 28_500)
    assert drives(pairs=f"{a} {b} 36")[a, b].metres == drives()[a, b].metres


def test_what_the_house_has_learnt_goes_before_everything():
    a, b, *_ = (spot.key for spot in DRIVES_ASK.destinations)
    learnt = Leg(origin=a, destination=b, minutes=41, metres=30_000)
    legs = drives(replace(DRIVES_ASK, driven=(learnt,)), pairs=f"{a} {b} 36")
    assert legs[a, b] == learnt
    assert legs[b, a].minutes == 36


@pytest.mark.parametrize("line", ["shop 36", "shop shop 36", "shop oars-head soon"])
def test_a_line_that_cannot_be_read_is_refused(line):
    with pytest.raises(InvalidOption, match=f"option pairs: '{line}' is not two"):
        registry.validate(found("drive_times_table"), {"pairs": line})
