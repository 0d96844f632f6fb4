"""Initials on a strip: all that fit are read, none stands over another."""

from itertools import pairwise

from hypothesis import given
from hypothesis import strategies as st

from dispatch.web.owner import draw_initials
from dispatch.web.owner.draw_initials import Run

TEAMS = st.sampled_from(["WS", "RF WS", "MT JQ OT", "RF WS MT OT"])
STRETCHES = st.lists(
    st.tuples(st.integers(0, 60), st.integers(3, 60), TEAMS), max_size=8
)


def runs(*ends):
    return [Run(team=tuple(t.split()), x=x, end=end) for x, end, t in ends]


def said(found):
    return [one.said for one in found]


@given(STRETCHES, st.integers(0, 400), st.booleans())
def test_no_initials_touch_others_or_the_flag(stretches, flag, fast):
    x, row = 100.0, []
    for gap, wide, team in stretches:
        row.append(
            Run(team=tuple(team.split()), x=x + gap, end=x + gap + wide, fast=fast)
        )
        x += gap + wide
    found = draw_initials.labels(row, flag)
    for inside in (True, False):
        placed = sorted((one.x, one.end) for one in found if one.inside is inside)
        apart = [after[0] - before[1] for before, after in pairwise(placed)]
        assert all(gap >= 6 - 1e-6 for gap in apart)
        assert all(inside or end < flag or x > flag for x, end in placed)


def test_wide_letters_do_not_fill_a_band_that_narrow_ones_do():
    wide, narrow = draw_initials.labels(
        runs((0, 40, "WS WM"), (100, 140, "JI II")), None
    )
    assert (narrow.said, narrow.inside) == ("WS WM", False) or not wide.inside
    inside = {one.said: one.inside for one in (wide, narrow)}
    assert inside == {"WS WM": False, "JI II": True}


def test_neighbours_give_each_other_room_before_anything_is_left_out():
    first, last = draw_initials.labels(
        runs((100, 106, "RF WS"), (114, 120, "JQ MT")), None
    )
    assert (first.said, last.said) == ("RF WS", "JQ MT")
    # The first ends with its band, so that the next may begin with its own.
    assert first.end + 6 <= last.x


def test_the_same_team_soon_again_is_named_once_and_later_anew():
    row = runs((100, 103, "RF WS"), (120, 123, "RF WS"), (160, 163, "RF WS"))
    first, last = draw_initials.labels(row, None)
    assert first.x == 100
    assert last.x == 160


def test_where_room_is_short_the_first_stands_with_how_many_more():
    crowded = runs((100, 128, "RF WS"), (130, 160, "JQ MT OT"), (175, 190, "DH TA"))
    assert said(draw_initials.labels(crowded, None)) == ["RF WS", "JQ+2", "DH TA"]


def test_initials_stand_clear_of_the_knot_of_what_is_made_fast():
    run = Run(team=("RF", "WS"), x=100, end=110, fast=True)
    (found,) = draw_initials.labels([run], None)
    assert found.x >= 107 or found.end <= 95
