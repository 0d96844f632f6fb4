"""For each rule of the contract a tiny week in which breaking it would pay, and the same without the rule."""

from tests.planner.dozens import (
    after,
    dozen,
    needs_tent,
    one_job,
    second_van,
    tent,
    two_jobs,
    with_person,
    with_van,
)

REST = {"minutes": 2, "after_min": 6, "windows": [[4, 9]]}
OUT = {"van": "V", "day": 0, "team": ["Bob"], "depart": 0, "back": 5, "break": None}
OUT |= {"stops": [{"do": "visit", "stage": "A.all", "start": 1, "end": 4}]}
BOTH_AT_ONCE = {"windows": [[1, 4]]}
SPRAY = [{"skill": "spray", "level": 2, "count": 1}]
NOBODY = [{"skill": "juggling", "level": 1, "count": 1}]


def sprayers(ann: int, bob: int) -> dict:
    week = one_job(needs=SPRAY)
    week = with_person(week, 0, skills={"spray": ann})
    return with_person(week, 1, skills={"spray": bob})


def rested(rest: dict | None, **changes: object) -> dict:
    sizes = changes.pop("sizes", {"1": 6})
    return one_job(dozen(**{"break": rest}), sizes, **changes)


def same_boat(week: dict) -> dict:
    week["jobs"][1]["boat"] = week["jobs"][0]["boat"]
    return week


def apart_jobs(*, gear: bool, same: bool = True) -> dict:
    """Two jobs that wait for one another on one van-day, with gear on two vans or none needed."""
    week = second_van(with_van(dozen(), gear=["washer"]), gear=["buffer"])
    first = {"gear": ["washer"]} if gear else {}
    waits = after("A.all", same_van_day=same)
    return two_jobs(week, first, after=waits, gear=["buffer"] if gear else [])


def without_bob(week: dict) -> dict:
    return week | {"people": week["people"][:1]}


def far_drive(minutes: int) -> dict:
    return dozen(drive_min=[[0, minutes, 2], [minutes, 0, 1], [2, 1, 0]])


# name: (the week with the rule, the week without it)
RULES = {
    "inside its windows": (one_job(windows=[[9, 14]]), one_job()),
    "minutes by team size": (one_job(sizes={"1": 7, "2": 7}), one_job(sizes={"1": 4})),
    "no team below the least": (one_job(sizes={"2": 4}), one_job()),
    "seats": (
        one_job(with_van(dozen(), seats=1), {"2": 4}),
        one_job(sizes={"2": 4}),
    ),
    "a driver": (with_person(one_job(), 0, driver=False), one_job()),
    "kept apart": (
        one_job(dozen(apart=[["Ann", "Bob"]]), {"2": 4}),
        one_job(sizes={"2": 4}),
    ),
    "not alone": (with_person(one_job(), 0, not_alone=True), one_job()),
    "barred": (one_job(barred=["Ann"]), one_job()),
    "a skill at its level": (sprayers(1, 2), sprayers(2, 2)),
    "a skill's count": (
        one_job(needs=[{"skill": "prep", "level": 1, "count": 2}]),
        one_job(),
    ),
    "gear": (
        one_job(
            second_van(dozen(), gear=["washer"], cents_per_day=900), gear=["washer"]
        ),
        one_job(second_van(dozen(), cents_per_day=900)),
    ),
    "supplies": (
        two_jobs(
            with_van(dozen(), carries={"l": 5}),
            {"supplies": {"l": 3}},
            supplies={"l": 3},
        ),
        two_jobs(
            with_van(dozen(), carries={"l": 6}),
            {"supplies": {"l": 3}},
            supplies={"l": 3},
        ),
    ),
    "a person's duty": (with_person(one_job(), 0, duty=[[0, 5]]), one_job()),
    "a person off duty": (with_person(one_job(), 0, duty=[None]), one_job()),
    "the van's duty": (one_job(with_van(dozen(), duty=[[0, 5]])), one_job()),
    "inside its day": (one_job(dozen(days=[[0, 5]])), one_job(dozen(days=[[0, 6]]))),
    "the drive": (one_job(far_drive(2)), one_job(far_drive(1))),
    "starts and ends at its base": (
        one_job(with_van(dozen(), base="dock")),
        one_job(with_van(dozen(), base="quay")),
    ),
    "a person in one van a day": (
        two_jobs(without_bob(second_van(dozen())), BOTH_AT_ONCE, **BOTH_AT_ONCE),
        two_jobs(second_van(dozen()), BOTH_AT_ONCE, **BOTH_AT_ONCE),
    ),
    "a van once a day": (
        two_jobs(None, BOTH_AT_ONCE, **BOTH_AT_ONCE),
        two_jobs(second_van(dozen()), BOTH_AT_ONCE, **BOTH_AT_ONCE),
    ),
    "a break when due": (rested(REST, sizes={"1": 11}), rested(None, sizes={"1": 11})),
    "the break's window": (
        rested(REST | {"windows": [[0, 2]]}, windows=[[1, 7]]),
        rested(REST, windows=[[1, 9]]),
    ),
    "no break in work that cannot pause": (
        rested(REST, pausable=False, windows=[[1, 10]], sizes={"1": 7}),
        rested(REST, windows=[[1, 10]], sizes={"1": 7}),
    ),
    "no break in a drive": (
        one_job(
            with_van(far_drive(3), duty=[[2, 14]])
            | {"break": REST | {"windows": [[4, 6]]}},
            pausable=False,
        ),
        one_job(with_van(far_drive(3), duty=[[2, 14]]), pausable=False),
    ),
    "the trailer there": (
        one_job(tent(dozen()), **needs_tent()),
        one_job(tent(dozen())),
    ),
    "a van that tows": (
        one_job(tent(with_van(dozen(), tows=False)), **needs_tent()),
        one_job(tent(with_van(dozen(), tows=False), towed=False), **needs_tent()),
    ),
    "a tow's minutes": (
        one_job(tent(dozen(), hook_min=4), **needs_tent()),
        one_job(tent(dozen(), hook_min=0), **needs_tent()),
    ),
    "a tow's slower drive": (
        one_job(tent(dozen(), factor_pct=101), **needs_tent()),
        one_job(tent(dozen()), **needs_tent()),
    ),
    "the trailer stays": (
        two_jobs(
            tent(dozen(), "quay"), needs_tent(14), **(needs_tent() | {"place": "dock"})
        ),
        two_jobs(
            tent(dozen(), "quay"), needs_tent(), **(needs_tent() | {"place": "dock"})
        ),
    ),
    "a trailer serves one boat": (
        two_jobs(tent(dozen(), "quay"), needs_tent(14), **needs_tent(14)),
        same_boat(two_jobs(tent(dozen(), "quay"), needs_tent(14), **needs_tent(14))),
    ),
    "the table of stays": (
        one_job(tent(dozen(), "quay"), **needs_tent([[0, 5, 0]])),
        one_job(tent(dozen(), "quay"), **needs_tent([[0, 6, 0]])),
    ),
    "the shortest lag": (
        two_jobs(after=after("A.all", min_lag=4)),
        two_jobs(after=after("A.all")),
    ),
    "the longest lag": (
        two_jobs(
            None,
            {"windows": [[0, 5]]},
            after=after("A.all", max_lag=3),
            windows=[[9, 14]],
        ),
        two_jobs(None, {"windows": [[0, 5]]}, after=after("A.all"), windows=[[9, 14]]),
    ),
    "the lag's table": (
        two_jobs(after=after("A.all", min_lag=[[0, 4, 0]])),
        two_jobs(after=after("A.all", min_lag=[[0, 5, 0]])),
    ),
    "on the same van and day": (
        apart_jobs(gear=True),
        apart_jobs(gear=True, same=False),
    ),
    "what waits for what is not done": (
        two_jobs(None, {"needs": NOBODY}, after=after("A.all")),
        two_jobs(None, {"needs": NOBODY}),
    ),
    "one at a time on a boat": (
        same_boat(two_jobs(second_van(dozen()), BOTH_AT_ONCE, **BOTH_AT_ONCE)),
        two_jobs(second_van(dozen()), BOTH_AT_ONCE, **BOTH_AT_ONCE),
    ),
    "nobody on a boat while it cures": (
        same_boat(two_jobs(None, {"hold_min": 4}, after=after("A.all"))),
        same_boat(two_jobs(None, {"hold_min": 0}, after=after("A.all"))),
    ),
    "the hold's table": (
        one_job(hold_min=[[0, 5, 0]]),
        one_job(hold_min=[[0, 6, 0]]),
    ),
    "the pin": (one_job(pinned={"van": "V", "start": 8}), one_job()),
    "the pin's van": (
        one_job(
            second_van(dozen(), cents_per_day=900), pinned={"van": "W", "start": 1}
        ),
        one_job(second_van(dozen(), cents_per_day=900)),
    ),
    "what is frozen": (
        one_job(dozen(frozen=[OUT]), {"1": 3}),
        one_job(sizes={"1": 3}),
    ),
    "not before now": (one_job(dozen(now=5)), one_job()),
}
