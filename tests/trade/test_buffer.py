"""A day that runs over, in minutes worked by hand."""

from dispatch.trade.buffer import Stop, on_a_late_day


def test_a_late_day_pushes_what_follows_until_idle_time_takes_it_up() -> None:
    """An hour's work runs over by a quarter; ten minutes' drive and five idle before the next, forty before the last."""
    stops = [
        Stop(start=480, end=540, before_minutes=20, over_minutes=15),
        Stop(start=555, end=615, before_minutes=10, over_minutes=7),
        Stop(start=665, end=675, before_minutes=10),
    ]
    assert list(on_a_late_day(460, stops)) == [(480, 555), (565, 632), (665, 675)]


def test_a_day_without_slack_adds_everything_up() -> None:
    stops = [Stop(start=s, end=s + 100, over_minutes=25) for s in (0, 100, 200)]
    assert [end for _, end in on_a_late_day(0, stops)] == [125, 250, 375]
