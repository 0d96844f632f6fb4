"""A day that runs over, in minutes worked by hand."""

from dispatch.trade.buffer import Stop, on_a_late_day, tight_starts


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


def test_the_later_a_start_the_dearer_by_quarters_of_an_hour() -> None:
    """A visit of 100 min and 20 over in hours till minute 600: 45 are spared until minute 435, none from 480 on."""
    rows = list(tight_starts((300, 600), takes=100, over=20, spare=45, cents=9000))
    assert rows == [
        (436, 451, 3000),
        (451, 466, 6000),
        (466, 481, 9000),
        (481, 496, 12000),
        (496, 501, 15000),
    ]


def test_a_span_that_always_leaves_too_little_is_dear_from_its_first_minute() -> None:
    rows = list(tight_starts((470, 600), takes=100, over=20, spare=45, cents=9000))
    assert rows[0] == (470, 481, 9000)
    assert rows[-1][1] == 501


def test_nothing_is_dear_where_nothing_is_to_be_spared_or_it_costs_nothing() -> None:
    for spare, cents in ((0, 9000), (45, 0)):
        assert not list(tight_starts((300, 600), takes=100, over=20, spare=spare, cents=cents))  # fmt: skip


def test_a_visit_that_does_not_fit_has_no_dear_start() -> None:
    assert not list(tight_starts((550, 600), takes=100, over=20, spare=45, cents=9000))
