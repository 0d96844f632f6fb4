"""How far overspray carries: 15 ft and 3 ft for every mph of gust above 3, worked out by hand."""

from dataclasses import replace
from datetime import timedelta

import numpy as np
import pytest

from dispatch.trade import samples
from dispatch.trade.overspray import least_m, reach_m
from dispatch.trade.sky import Sky
from dispatch.trade.spans import Span
from dispatch.trade.units import ft_to_m, m_to_ft, mph_to_ms
from dispatch.trade.window import vetoes
from dispatch.trade.work import Neighbour, Work
from tests.trade.test_window import HAPPENED, moment, spray

AT = moment(24, 10)
HOUR = Span(AT, AT + timedelta(hours=1))


def south_west(gust_mph: float) -> Sky:
    hour = replace(
        HAPPENED.hours[10], gust_ms=mph_to_ms(gust_mph), wind_ms=1, from_deg=225
    )
    return Sky(hours=(hour,), issued_at=AT)


def car(bearing: float, feet: float = 30, *, sheeted: bool = False) -> Neighbour:
    return Neighbour(
        what="white car",
        bearing_deg=bearing,
        distance_m=ft_to_m(feet),
        sheeted=sheeted,
    )


def reach_ft(work: Work, gust_mph: float, bearing: float) -> float:
    taken = samples.take(work, south_west(gust_mph), HOUR)
    (reach,) = np.unique(reach_m(work, taken, car(bearing)))
    return m_to_ft(float(reach))


@pytest.mark.parametrize(
    ("gun", "cover", "bearing", "feet"),
    [
        ("turbine", "open", 45, 39),
        ("electric", "open", 45, 58.5),
        ("turbine", "screens", 45, 13.65),
        ("turbine", "open", 225, 15),
        ("electric", "open", 225, 22.5),
        ("turbine", "screens", 225, 5.25),
        ("turbine", "open", 90, 39),
        ("turbine", "open", 91, 15),
    ],
)
def test_reach_in_a_gust_of_11_mph(
    gun: str, cover: str, bearing: float, feet: float
) -> None:
    work = spray(gun=gun, cover=cover)
    assert reach_ft(work, 11, bearing) == pytest.approx(feet, abs=0.05)


def test_in_light_air_it_carries_the_least_even_downwind() -> None:
    assert reach_ft(spray(), 2, 45) == pytest.approx(15)
    assert m_to_ft(least_m(spray())) == pytest.approx(15)


def test_a_sheeted_neighbour_does_not_stop_the_gun() -> None:
    for sheeted, stops in ((False, True), (True, False)):
        work = spray(neighbours=(car(45, sheeted=sheeted),))
        found = vetoes(work, south_west(11), HOUR)
        assert any(veto.code == "overspray" for veto in found) is stops


@pytest.mark.parametrize(("feet", "strength"), [(30, "owner"), (14, "wall")])
def test_nobody_overrules_the_least_distance(feet: float, strength: str) -> None:
    work = spray(neighbours=(car(45, feet),))
    found = vetoes(work, south_west(11), HOUR)
    (near,) = (veto for veto in found if veto.code == "overspray")
    assert near.strength == strength
    assert near.sentence == (
        f"white car stands {feet} ft off; overspray may carry 39 ft in a gust of 11 mph"
    )


def test_wind_of_unknown_direction_is_unknown_beside_a_neighbour() -> None:
    sky = south_west(11)
    lost = replace(sky, hours=(replace(sky.hours[0], from_deg=None),))
    found = vetoes(spray(neighbours=(car(45),)), lost, HOUR)
    assert [veto.code for veto in found if veto.edge == "during"] == ["unknown"]
