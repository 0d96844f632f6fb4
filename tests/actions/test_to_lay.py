"""What a stage still takes: less by the coat that is on, and by what that coat really took."""

import pytest

from dispatch.actions import cans, coats, reporting, show_board, to_lay
from dispatch.records.models import Stage, WeekPlan
from dispatch.trade import units
from tests.actions import plans, posted
from tests.actions.test_stores import can

pytestmark = pytest.mark.django_db


@pytest.fixture
def port():
    """Port, 40 oz by the estimate, begun at 11:05; nothing else of the job wants any."""
    job = posted.sprayed()
    job.stages.exclude(key="port").update(product_ml=0)
    stage = job.stages.get(key="port")
    posted.visit(posted.van_day(posted.person("rook")), stage, "11:00", 90)
    posted.stand("13:00")
    Stage.objects.filter(pk=stage.pk).update(product_ml=units.oz_to_ml(40))
    reporting.start(fresh(stage), stage.visit.van_day.team.get(), posted.at("11:05"))
    return fresh(stage)


def fresh(stage):
    return Stage.objects.get(pk=stage.pk)


def first_on(stage, ounces=None):
    rider = stage.visit.van_day.team.get()
    reporting.coat_on(fresh(stage), rider, posted.at("11:30"), ounces)


def still(stage):
    return round(units.ml_to_oz(to_lay.ml(fresh(stage))), 1)


def test_before_the_first_coat_is_on_all_of_it_is_wanted(port):
    assert still(port) == 40


# Planned 20 each. 28 of 20 is 1.4 times; 10 is less than 0.75, 60 more than twice.
@pytest.mark.parametrize(
    ("took", "wanted"), [(20, 20), (28, 28), (16, 16), (10, 15), (60, 40), (None, 20)]
)
def test_the_second_coat_is_expected_to_take_what_the_first_took(port, took, wanted):
    first_on(port, took)
    assert still(port) == wanted


def test_an_amount_put_right_counts(port):
    first_on(port, 20)
    port.laid.update(used_ml=units.oz_to_ml(26))
    assert still(port) == 26


def test_without_an_estimate_the_second_takes_as_much_as_the_first(port):
    Stage.objects.filter(pk=port.pk).update(product_ml=0)
    assert still(port) == 0
    first_on(port, 18)
    assert still(port) == 18
    assert to_lay.first_coat(fresh(port)).coat == coats.FIRST


def test_once_done_nothing_is_told_of_a_first_coat(port):
    first_on(port, 20)
    reporting.finish(fresh(port), port.visit.van_day.team.get(), posted.at("12:40"), 20)
    assert to_lay.first_coat(fresh(port)) is None


def wanted():
    (one,) = cans.ahead()
    return one.needed


def test_the_stores_page_wants_less_by_what_the_first_coat_took(port):
    """40 oz with a tenth in reserve; after the first coat, as planned, half of that."""
    can(64)
    assert wanted() == "44.0 oz"
    first_on(port, 20)
    assert wanted() == "22.0 oz"


def test_the_boards_line_of_the_product_wants_less_too():
    job = plans.coat(plans.outfit())
    can(128)
    port = job.stages.get(key="port-as-she-lies")
    draft = plans.draft(
        [(25, "10:30", "13:30", [(f"j1.{port.key}", "11:00", "13:00")])]
    )
    before = needed(draft)
    assert before == pytest.approx(port.product_ml)
    now = plans.at(25, "11:00")
    Stage.objects.filter(pk=port.pk).update(state="under-way", started_at=now)
    coats.lay_first(fresh(port), now, None, by=None, actor="rook")
    assert needed(draft) == pytest.approx(before / 2)


def needed(draft):
    board = show_board.board(WeekPlan.objects.get(pk=draft.pk))
    (line,) = [row for row in board.stores if row.key == "one"]
    return line.needed_ml
