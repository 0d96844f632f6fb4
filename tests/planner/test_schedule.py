"""When walks are how warm, and when they begin anew."""

import pytest

from dispatch.planner.solve.schedule import Schedule


def _short_walks(schedule: Schedule, ends: list[float], steps: int) -> int:
    """Go through the effort in hundredths; return how many short walks there were."""
    walks = 0
    for hundredth in range(100):
        along = hundredth / 100
        if schedule.over(along):
            walks += 1
            schedule.note([ends[walks % len(ends)]], steps * walks, 10, along)
    return walks


def test_a_lone_walk_cools_all_the_way_and_never_begins_anew() -> None:
    schedule = Schedule(anew=False, warmth=0.1)
    heats = [schedule.heat(p / 10) for p in range(11)]
    assert heats == sorted(heats, reverse=True)
    assert heats[0] == pytest.approx(0.1)
    assert not schedule.over(1.0)


def test_walks_that_end_far_apart_use_up_their_share() -> None:
    schedule = Schedule(anew=True)
    assert _short_walks(schedule, [100.0, 110.0], steps=200) == 8
    assert not schedule.short


def test_there_are_more_walks_where_each_takes_many_steps_all_the_same() -> None:
    # A tenth of the effort saw 270 steps of a week of 10 stages, which are 45 pairs: in the rest of three quarters
    # of it go nine times 180.
    assert _short_walks(Schedule(anew=True), [100.0, 110.0], steps=270) == 1 + 9
    # However many there could be, the first is an eighth of them and the others a sixteenth.
    assert _short_walks(Schedule(anew=True), [100.0, 110.0], steps=2700) == 1 + 13


def test_each_short_walk_cools_and_the_next_is_warm_again() -> None:
    schedule = Schedule(anew=True)
    warm, cold = schedule.heat(0.0), schedule.heat(0.09)
    assert cold < warm / 10
    schedule.note([100.0], 1000, 10, 0.094)
    assert schedule.heat(0.094) == pytest.approx(warm)


def test_walks_that_all_end_alike_stop_beginning_anew() -> None:
    schedule = Schedule(anew=True)
    assert _short_walks(schedule, [100.0, 100.3], steps=200) == 4


def test_a_week_too_big_for_short_walks_goes_on_from_its_first() -> None:
    schedule = Schedule(anew=True)
    assert _short_walks(schedule, [100.0, 150.0], steps=20) == 1


def test_with_time_for_one_short_walk_the_long_one_is_warmer_than_after_many() -> None:
    some, hardly = Schedule(anew=True), Schedule(anew=True)
    some.note([100.0], 10 * 5, 10, 0.05)
    hardly.note([100.0], 10 * 1, 10, 0.05)
    assert not some.short
    assert hardly.heat(0.05) < some.heat(0.05) / 2 < some.heat(0.0) / 2
