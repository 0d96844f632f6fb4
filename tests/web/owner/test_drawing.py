"""The drawing tells what the board says: unknown is marked, texture doubles colour, names are escaped."""

from dataclasses import replace
from datetime import timedelta

import pytest

from dispatch.actions import show_board
from dispatch.records.models import Boat, Forecast, Job, Outfit
from dispatch.web.owner import boat_blocks, draw_beneath, draw_paper, drawing, svg
from tests.actions import plans
from tests.actions.plans import at

pytestmark = pytest.mark.django_db
FRIDAY = (
    28,
    "07:30",
    "12:00",
    [("j1.mask", "07:40", "08:35"), ("j1.port-as-she-lies", "09:30", "10:55")],
)


@pytest.fixture
def board():
    plans.coat(plans.outfit())
    return show_board.board(plans.draft([FRIDAY]))


def test_hands_lead_to_their_why_and_film_has_its_texture(board):
    drawn = drawing.whole(board).marks
    assert 'href="/week/why/j1.port-as-she-lies/?week=2027-05-24"' in drawn
    assert 'fill="url(#wet)"' in drawn
    assert all(f'fill="url(#setting-{third})"' in drawn for third in (1, 2, 3))
    assert "rain-safe about Fri 28 May" in drawn


def test_a_phone_has_no_link_inside_its_picture_and_every_visit_beneath(board):
    (block,) = boat_blocks.blocks(board)
    assert "<a " not in block.drawing.marks
    assert [line.stage for line in block.rest if line.stage] == [
        "j1.mask",
        "j1.port-as-she-lies",
        # Her film while it is wet, and while it sets: why it is set when it is.
        "j1.port-as-she-lies",
        "j1.port-as-she-lies",
    ]


def test_hours_nobody_knows_are_hatched(board):
    assert "url(#unknown)" not in drawing.whole(board).marks
    Forecast.objects.all().delete()
    blind = replace(board, sky=replace(board.sky, hours=(), issued_at=None))
    assert drawing.whole(blind).marks.count('fill="url(#unknown)"') == 7 * 24


def test_hours_of_a_held_boat_are_hatched_and_said_to_be_off(board):
    (row,) = board.boats
    off = (replace(row.segments[0], kind="held", initials=()),)
    places = (replace(board.places[0], boats=(replace(row, segments=off),)),)
    drawn = drawing.whole(replace(board, places=places)).marks
    assert 'fill="url(#held)"' in drawn
    assert ">off: held for you<" in drawn


def test_a_heading_nobody_read_is_a_question(board):
    Boat.objects.update(heading_deg=None)
    (block,) = boat_blocks.blocks(show_board.board(plans.draft([])))
    assert ">?</text>" in block.hull
    assert "nobody has read her heading" in block.hull


def test_now_is_drawn_only_within_the_week(board):
    assert 'class="now"' not in drawing.whole(board).marks
    Outfit.objects.update(stands_at=at(25, "10:00"))
    within = replace(board, now=at(25, "10:00"))
    assert 'class="now"' in drawing.whole(within).marks


def test_names_cannot_break_out_of_the_drawing(board):
    Boat.objects.update(name="<script>alert('hi')</script>")
    drawn = drawing.whole(show_board.board(plans.draft([FRIDAY]))).marks
    assert "<script>" not in drawn
    assert "&lt;script&gt;" in drawn


def test_marks_carry_no_style():
    drawn = svg.rect(1, 2.04, 3, 4, "film", fill="url(#wet)")
    assert (
        drawn
        == '<rect class="film" x="1" y="2" width="3" height="4" fill="url(#wet)"/>'
    )


def under(sky):
    """A board whose hands are all marked with one word of the sky."""
    board = show_board.board(plans.draft([FRIDAY]))
    places = [
        replace(
            place,
            boats=tuple(
                replace(
                    boat,
                    segments=tuple(
                        replace(one, sky=sky if one.kind == "hands" else "")
                        for one in boat.segments
                    ),
                )
                for boat in place.boats
            ),
        )
        for place in board.places
    ]
    return replace(board, places=tuple(places))


def marked(sky):
    """The drawing of such a board."""
    return drawing.whole(under(sky)).marks


@pytest.mark.parametrize("sky", ["forbids", "likely", "unknown"])
def test_hands_the_sky_does_not_allow_for_certain_are_marked_each_in_its_way(
    board, sky
):
    drawn = marked(sky)
    assert drawn.count(f'class="doubt {sky}"') == 2
    crosses = drawn.count('class="doubt cross"')
    assert crosses == (2 if sky == "forbids" else 0)
    assert 'class="doubt' not in marked("")


def test_marks_that_would_run_into_one_another_on_a_phone_are_one(board):
    doubted = under("unknown")
    along = drawing.phone_scale(doubted)
    (boat,) = doubted.places[0].boats
    small = drawing.phone(doubted, boat, along).marks
    assert small.count('class="doubt unknown"') == 2
    assert small.count("doubt-mark") == 1
    assert marked("unknown").count("doubt-mark") == 2


@pytest.mark.parametrize(
    ("sky", "said"),
    [
        ("", ", kept"),
        ("likely", ", kept"),
        ("unknown", "; whether it is kept is not known, as her sky is not"),
        ("forbids", ", kept only if the sky allows what it forbids now"),
    ],
)
def test_a_promise_is_not_told_as_kept_where_her_sky_is_not_known(board, sky, said):
    Job.objects.update(promise="hard", promised_by=at(29, "17:00") + timedelta(7))
    (block,) = boat_blocks.blocks(under(sky))
    assert block.promised == f"hard date promised by Sat 5 Jun 17:00{said}"


def test_a_visit_on_a_phone_is_cut_into_its_work_its_people_and_its_sky(board):
    (block,) = boat_blocks.blocks(board)
    mask = block.rest[0]
    assert (mask.words, mask.stage) == ("Mask and drape", "j1.mask")
    assert mask.who
    (bare,) = board.boats
    first, *others = bare.segments
    said = f"{mask.words}, {mask.who}; the sky no longer allows it. Rain."
    rainy = replace(first, words=said, sky="forbids")
    place = replace(board.places[0], boats=(replace(bare, segments=(rainy, *others)),))
    (block,) = boat_blocks.blocks(replace(board, places=(place,)))
    cut = block.rest[0]
    assert (cut.words, cut.who) == (mask.words, mask.who)
    assert (cut.sky, cut.doubt) == ("The sky no longer allows it. Rain.", True)


@pytest.mark.parametrize(
    ("now", "soon", "visits", "doubts"),
    [
        (at(27, "07:00"), [], "2 visits, Fri 07:40-10:55", "the sky forbids 2"),
        (
            at(27, "07:50"),
            ["Mask and drape"],
            "1 more visit, Fri 09:30-10:55",
            "the sky forbids 1",
        ),
        # The mask is done by then: it is folded away with what is far off.
        (
            at(28, "09:00"),
            ["Spray port"],
            "1 more visit, Fri 07:40-08:35",
            "the sky forbids 1",
        ),
    ],
)
def test_on_a_phone_what_comes_within_a_day_is_unfolded_and_the_rest_told_in_a_line(
    board, now, soon, visits, doubts
):
    (block,) = boat_blocks.blocks(replace(under("forbids"), now=now))
    shown = [line.words for line in block.soon if line.doubt]
    assert len(shown) == len(soon)
    assert all(
        words.startswith(begin) for words, begin in zip(shown, soon, strict=True)
    )
    assert block.visits == visits
    assert block.doubts == doubts


def test_an_empty_board_has_no_sheet(board):
    lines = dict.fromkeys(("places", "vans", "people", "equipment", "stores"), ())
    assert draw_paper.sheets(replace(board, **lines)) == ()


@pytest.mark.parametrize("boats", [1, 14, 40])
def test_paper_is_cut_between_boats_and_holds_all_of_the_board(board, boats):
    (place,) = board.places
    many = replace(board, places=(replace(place, boats=place.boats * boats),))
    sheets = draw_paper.sheets(many)
    ends = [sheet.top + sheet.height for sheet in sheets]
    assert [sheet.top for sheet in sheets] == [drawing.HEAD, *ends[:-1]]
    # The last line beneath the boats is on the last sheet, and no sheet is higher than a page lying.
    assert drawing.whole(many).height - draw_beneath.ROW < ends[-1]
    assert max(sheet.height for sheet in sheets) + drawing.HEAD <= 725
    first = drawing.HEAD + drawing.PLACE
    rows = [first + drawing.ROW * (n + 1) for n in range(boats)]
    for sheet in sheets:
        inside = first < sheet.top < rows[-1] - drawing.ROW
        assert bool(sheet.place) == inside
        assert not inside or sheet.place == f"{place.name.upper()}, goes on"
    assert not any(
        row - drawing.ROW + 2 < end < row - 6 for end in ends for row in rows
    )
