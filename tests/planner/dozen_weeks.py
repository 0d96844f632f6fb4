"""Random weeks of a dozen minutes for hypothesis: every rule of the contract turns up in some of them."""

import copy
from collections.abc import Callable

from hypothesis import strategies as st

from tests.planner.dozens import dozen, job, second_van, tent

REST = {"minutes": 2, "after_min": 6, "windows": [[3, 10]]}
LAGS = st.sampled_from([0, 0, 2, 5, [[0, 24, 1]], [[0, 7, 0], [7, 24, 3]], [[0, 6, 2]]])
WINDOWS = st.sampled_from(
    [[[0, 14]], [[0, 14]], [[0, 6]], [[5, 13]], [[1, 5], [8, 14]]]
)
SIZES = st.sampled_from([{"1": 3}, {"1": 5, "2": 3}, {"2": 2}, {"1": 2, "2": 2}])
Draw = Callable[..., object]


@st.composite
def stage(draw: Draw, *, tents: bool) -> dict:
    """Draw what is special about one stage."""
    rarely = st.integers(0, 3).map(lambda n: n == 3)
    need = {
        "skill": "prep",
        "level": draw(st.integers(1, 3)),
        "count": draw(st.integers(1, 2)),
    }
    return {
        "place": draw(st.sampled_from(["quay", "dock", "yard"])),
        "minutes": draw(SIZES),
        "windows": draw(WINDOWS),
        "pausable": draw(st.booleans()),
        "extra": draw(rarely),
        "needs": [need] if draw(rarely) else [],
        "barred": [draw(st.sampled_from(["Ann", "Bob"]))] if draw(rarely) else [],
        "gear": ["washer"] if draw(rarely) else [],
        "supplies": {"l": draw(st.integers(1, 4))} if draw(rarely) else {},
        "risk": [[2, 6, 40]] if draw(rarely) else [],
        "hold_min": draw(LAGS) if draw(rarely) else 0,
        "trailers": [{"kind": "tent", "stays_min": draw(st.sampled_from([0, 3]))}]
        if tents and draw(st.booleans())
        else [],
    }


@st.composite
def dozens(draw: Draw) -> dict:
    """Draw a week: one or two vans, two people, two stages on one or two boats; tents with one van only."""
    rarely = st.integers(0, 3).map(lambda n: n == 3)
    tents = draw(rarely)
    week = dozen(**{"break": copy.deepcopy(REST) if draw(rarely) else None})
    week["vans"][0] |= {
        "seats": draw(st.integers(1, 2)),
        "carries": {"l": 5},
        "tows": draw(st.booleans()),
        "gear": ["washer"] if draw(st.booleans()) else [],
    }
    if tents:
        week = tent(
            week, draw(st.sampled_from(["yard", "quay"])), towed=draw(st.booleans())
        )
    elif draw(rarely):
        week = second_van(week, cents_per_day=500, gear=["washer"])
    week["apart"] = [["Ann", "Bob"]] if draw(rarely) else []
    week["people"][0]["not_alone"] = draw(rarely)
    week["people"][1]["driver"] = draw(st.booleans())
    week["people"][1]["duty"] = [draw(st.sampled_from([[0, 14], [2, 9], None]))]
    return _with_work(draw, week, tents=tents)


def _with_work(draw: Draw, week: dict, *, tents: bool) -> dict:
    for key in ("A", "B"):
        row = draw(stage(tents=tents))
        week = job(week, key, row["place"], row["minutes"], **row)
        promise = draw(st.sampled_from([None, 6]))
        week["jobs"][-1] |= {"promise": promise, "late_cents_per_hour": 600}
    first, second = week["stages"]
    if draw(st.booleans()):
        week["jobs"][1]["boat"] = "A"
    if draw(st.booleans()):
        wait = {
            "stage": first["id"],
            "min_lag": draw(LAGS),
            "same_van_day": draw(st.booleans()),
        }
        second["after"] = [wait | {"max_lag": draw(st.sampled_from([None, 4, 9]))}]
    if draw(st.integers(0, 3)) == 3:
        ways = ["open", "tented"]
        week["jobs"][0]["variants"] = ways
        first["variant"] = "open"
        week["stages"].insert(
            1,
            copy.deepcopy(first)
            | {"id": "A.tented", "variant": "tented", "minutes": {"1": 6}, "risk": []},
        )
    return week
