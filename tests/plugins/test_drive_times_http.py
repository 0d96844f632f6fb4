"""Drives as a road service on this machine tells them: the whole matrix, in parts, with holes, and when it fails."""

import math
from dataclasses import replace

import pytest

from dispatch.hooks import fetch, registry, testing
from dispatch.hooks.manifest import InvalidOption
from dispatch.hooks.values import DrivesAnswer, Leg
from tests.hooks.loopback import running, told
from tests.plugins import roads
from tests.plugins.asks import DRIVES_ASK, found

PLACES = DRIVES_ASK.destinations
SHAPES = [
    {"shape": "table", "profile": "driving"},
    {"shape": "sources_to_targets", "profile": "auto"},
]


@pytest.fixture
def service():
    with roads.serving() as one:
        yield one


def drives(address: str, ask=DRIVES_ASK, **options: object) -> dict[str, Leg]:
    given = {"address": address, "tries": 1, "timeout_s": 1} | options
    answer: DrivesAnswer = testing.answer(
        found("drive_times_http"), given, "drives", ask
    )
    return {f"{leg.origin} {leg.destination}": leg for leg in answer.legs}


def wanted(a, b) -> Leg:
    ends = roads.point(a), roads.point(b)
    minutes = math.ceil(roads.seconds(*ends) / 60 + DRIVES_ASK.start_minutes)
    metres = round(roads.metres(*ends))
    return Leg(origin=a.key, destination=b.key, minutes=minutes, metres=metres)


@pytest.mark.parametrize("shape", SHAPES, ids=lambda shape: shape["shape"])
@pytest.mark.parametrize("most", [400, 5, 2])
def test_every_drive_is_told_each_way_whatever_the_service_takes_at_once(
    service, shape, most
):
    service.most = most
    legs = drives(service.address, most_places=most, **shape)
    assert len(legs) == len(PLACES) * (len(PLACES) - 1)
    for a in PLACES:
        for b in PLACES:
            if a != b:
                assert legs[f"{a.key} {b.key}"] == wanted(a, b)
    assert (len(service.asked) > 1) == (most < 400)


@pytest.mark.parametrize("shape", SHAPES, ids=lambda shape: shape["shape"])
def test_a_place_that_no_road_reaches_is_left_out_and_the_rest_is_told(service, shape):
    service.cut_off = {roads.point(PLACES[1])}
    legs = drives(service.address, **shape)
    assert not [name for name in legs if PLACES[1].key in name.split()]
    assert len(legs) == (len(PLACES) - 1) * (len(PLACES) - 2)


def test_what_came_before_the_service_hung_stands(service, monkeypatch):
    monkeypatch.setattr(fetch, "WHOLE_S", 1.5)
    service.hangs_after = 2
    legs = drives(service.address, most_places=4)
    assert 0 < len(legs) < len(PLACES) * (len(PLACES) - 1)


def test_a_service_that_hangs_from_the_start_is_a_fault_in_time(service, monkeypatch):
    monkeypatch.setattr(fetch, "WHOLE_S", 1.5)
    service.hangs_after = 0
    with pytest.raises(testing.Broken, match=r"did not answer within 1\.0 s"):
        drives(service.address)


@pytest.mark.parametrize(
    ("data", "shape", "why"),
    [
        ({"code": "NoTable"}, "table", "the service answered NoTable."),
        ({"code": "Ok"}, "table", "answered no matrix"),
        ([], "table", "answered no matrix"),
        ({"code": "Ok", "durations": [[1]], "distances": [[1]]}, "table", "another"),
        (
            {"code": "Ok", "durations": [[-1]], "distances": [[1]]},
            "table",
            "answered no matrix",
        ),
        ({"sources_to_targets": [[5]]}, "sources_to_targets", "answered no matrix"),
        (
            {"sources_to_targets": [], "units": "leagues"},
            "sources_to_targets",
            "answered no matrix",
        ),
    ],
)
def test_what_is_no_matrix_is_refused_with_what_to_look_at(data, shape, why):
    with running() as server:
        path = "/sources_to_targets"
        if shape == "table":
            ends = (*DRIVES_ASK.origins, *DRIVES_ASK.destinations)
            where = ";".join(f"{s.longitude:.6f},{s.latitude:.6f}" for s in ends)
            path = f"/table/v1/driving/{where}"
        server.answers(path, told(data))
        with pytest.raises(testing.Broken, match=why):
            drives(server.address, shape=shape, most_places=400)


def test_drives_faster_than_any_road_are_no_answer(service, monkeypatch):
    monkeypatch.setattr(roads, "seconds", lambda a, b: 1.0)
    ask = replace(DRIVES_ASK, start_minutes=0.0)
    with pytest.raises(testing.Broken, match="cannot be driven"):
        drives(service.address, ask)


@pytest.mark.parametrize(
    ("options", "why"),
    [
        ({"address": "http://roads.example.test"}, "https is wanted"),
        ({"address": "https://r.test", "most_places": 1}, "whole number from 2 to 400"),
        ({"address": "https://r.test", "profile": "a/b"}, "profile must be one word"),
        ({"address": "https://r.test", "shape": "star"}, "choose table or sources"),
    ],
)
def test_options_that_cannot_be_are_refused(options, why):
    with pytest.raises(InvalidOption, match=why):
        registry.validate(found("drive_times_http"), options)
