"""What a coat used leaves the cans: the amount told, else the estimate, and never what is not there."""

from dataclasses import replace
from datetime import date, timedelta

import pytest

from dispatch.actions import board_text, reporting, show_board, stores
from dispatch.records.models import Can, HistoryEntry, Sheet, Stage, WeekPlan
from dispatch.trade import units
from tests.actions import posted

pytestmark = pytest.mark.django_db
OPENED = date(2027, 5, 10)


@pytest.fixture
def port():
    job = posted.sprayed()
    Sheet.objects.update(opened_shelf_days=30)
    stage = job.stages.get(key="port")
    posted.visit(posted.van_day(posted.person("rook")), stage, "11:00", 90)
    posted.stand("13:00")
    return stage


def can(ounces, *, opened_on=None, count=1):
    sheet = Sheet.objects.get(key="one")
    left = units.oz_to_ml(ounces)
    return Can.objects.create(
        sheet=sheet, left_ml=left, opened_on=opened_on, count=count
    )


def finish(stage, ounces=None):
    rider = stage.visit.van_day.team.get()
    reporting.finish(stage, rider, posted.at("12:40"), ounces)


def left():
    """Every can: ounces, when it was opened, how many."""
    return sorted(
        (round(units.ml_to_oz(row.left_ml), 1), row.opened_on, row.count)
        for row in Can.objects.all()
    )


def said():
    return HistoryEntry.objects.get(verb="use-product").sentence


def test_the_ounces_told_are_taken_out(port):
    """Common practice: the open can is used up before a sealed one is opened."""
    can(32, count=3)
    can(10, opened_on=OPENED)
    finish(port, 14.5)
    assert left() == [(27.5, posted.MONDAY, 1), (32.0, None, 2)]
    assert "took 14.5 oz of Lanternglass One; planned" in said()


def test_without_a_number_the_estimate_is_taken_and_said_to_be_one(port):
    can(32)
    finish(port)
    planned = units.ml_to_oz(port.product_ml)
    assert planned > 1
    assert left() == [(round(32 - planned, 1), posted.MONDAY, 1)]
    assert (
        f"took {planned:.1f} oz of Lanternglass One; by the estimate, not measured"
        in said()
    )


def test_of_two_open_cans_the_older_goes_first(port):
    can(10, opened_on=OPENED + timedelta(days=3))
    can(10, opened_on=OPENED)
    finish(port, 4)
    assert left() == [
        (6.0, OPENED, 1),
        (10.0, OPENED + timedelta(days=3), 1),
    ]


def test_a_can_past_its_shelf_life_is_not_used(port):
    old = posted.MONDAY - timedelta(days=31)
    can(20, opened_on=old)
    can(32)
    finish(port, 4)
    assert left() == [(20.0, old, 1), (28.0, posted.MONDAY, 1)]


def test_the_last_day_of_the_shelf_life_still_counts(port):
    last = posted.MONDAY - timedelta(days=30)
    can(20, opened_on=last)
    finish(port, 4)
    assert left() == [(16.0, last, 1)]


def test_more_than_the_stores_hold_empties_them_and_asks_for_a_count(port):
    can(3, opened_on=OPENED)
    can(4)
    finish(port, 14.5)
    assert left() == []
    assert said().endswith("The stores held 7.5 oz less than that: count the cans.")


def test_several_sealed_cans_are_opened_one_after_another(port):
    can(5, count=4)
    finish(port, 12)
    assert left() == [(3.0, posted.MONDAY, 1), (5.0, None, 1)]


def test_an_amount_nobody_knows_takes_nothing_and_says_so(port):
    can(32)
    Stage.objects.filter(pk=port.pk).update(product_ml=0)
    finish(Stage.objects.get(pk=port.pk))
    assert left() == [(32.0, None, 1)]
    assert "nobody measured or estimated" in said()
    assert said().endswith("Count the cans.")


def test_work_without_a_product_takes_nothing(port):
    can(32)
    mask = port.job.stages.get(key="mask")
    posted.visit(port.visit.van_day, mask, "08:00")
    finish(Stage.objects.get(pk=mask.pk))
    assert not HistoryEntry.objects.filter(verb="use-product").exists()
    assert left() == [(32.0, None, 1)]


def test_the_board_tells_what_is_left_beside_what_is_needed(port):
    can(32)
    finish(port, 14.5)
    board = show_board.board(WeekPlan.objects.get(state="standing"))
    (line,) = [row for row in board.stores if row.key == "one"]
    assert units.ml_to_oz(line.start_ml) == pytest.approx(17.5)
    assert line.needed_ml == 0
    text = "\n".join(show_board.text(board))
    assert "Lanternglass One: 17.5 oz in store, 0.0 oz needed; left Mon 17.5 oz" in text


def test_a_need_nobody_estimated_is_told_as_a_least_and_what_is_left_as_a_most(port):
    can(32)
    board = show_board.board(WeekPlan.objects.get(state="standing"))
    (line,) = [row for row in board.stores if row.key == "one"]
    blind = replace(line, not_estimated=("Second Wind: Spray port, two coats",))
    told = board_text.store_line(board, blind)
    assert "32.0 oz in store, at least 0.0 oz needed; left at most Mon 32.0 oz" in told
    assert told.endswith("; not estimated: Second Wind: Spray port, two coats")


def test_a_can_that_does_not_keep_is_not_counted_as_usable(port):
    can(20, opened_on=posted.MONDAY - timedelta(days=31))
    can(5)
    sheet = Sheet.objects.get(key="one")
    usable = stores.usable_ml(sheet, posted.MONDAY)
    assert units.ml_to_oz(usable) == pytest.approx(5)


def test_what_was_measured_of_a_coat_nobody_estimated_stands_beside_no_nought(port):
    can(32)
    Stage.objects.filter(pk=port.pk).update(product_ml=0)
    finish(Stage.objects.get(pk=port.pk), 14.5)
    assert left() == [(17.5, posted.MONDAY, 1)]
    assert (
        "took 14.5 oz of Lanternglass One; how much was planned is not known" in said()
    )
