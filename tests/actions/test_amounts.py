"""Amounts put right after they were reported, and cans that were counted by hand before a report came in."""

import pytest

from dispatch.actions import amounts, cans, coats, money, reporting
from dispatch.actions.errors import Refused, Stranger
from dispatch.records.models import Account, Can, HistoryEntry, Laid, Sheet, Stage
from dispatch.trade import units
from dispatch.trade.words import Words
from tests.actions import posted
from tests.actions.test_stores import OPENED, can, finish, left

pytestmark = pytest.mark.django_db
DAY = posted.MONDAY


@pytest.fixture
def port():
    job = posted.sprayed()
    Sheet.objects.update(opened_shelf_days=30)
    stage = job.stages.get(key="port")
    posted.visit(posted.van_day(posted.person("rook")), stage, "11:00", 90)
    posted.stand("13:00")
    return stage


def right(stage, ounces, coat=coats.BOTH):
    rider = stage.visit.van_day.team.get()
    amounts.put_right(stage, coat, rider, ounces)


def said(verb="correct-amount"):
    return HistoryEntry.objects.filter(verb=verb).first().sentence


def test_more_than_was_told_is_taken_out_as_well(port):
    can(32)
    finish(port, 14.5)
    right(port, 16)
    assert left() == [(16.0, DAY, 1)]
    assert "took 16.0 oz of Lanternglass One, not 14.5 oz. 1.5 oz taken" in said()
    assert units.ml_to_oz(Laid.objects.get().used_ml) == pytest.approx(16)


def test_less_goes_back_into_the_open_can(port):
    can(32)
    finish(port, 14.5)
    right(port, 4.5)
    assert left() == [(27.5, DAY, 1)]
    assert said().endswith("10.0 oz put back into the stores.")


def test_what_has_no_room_stands_as_an_open_can(port):
    """Packs of 32 oz: 2 + 31 were in store, 10 told, 1 really: 9 back where 8 of them fit."""
    can(2, opened_on=OPENED)
    can(31, opened_on=OPENED)
    finish(port, 10)
    Can.objects.filter(left_ml__gt=units.oz_to_ml(20)).update(
        left_ml=units.oz_to_ml(24)
    )
    right(port, 1)
    assert left() == [(1.0, DAY, 1), (32.0, OPENED, 1)]


def test_an_estimate_becomes_what_was_measured(port):
    can(32)
    finish(port)
    planned = units.ml_to_oz(port.product_ml)
    right(port, planned + 2)
    assert left() == [(round(30 - planned, 1), DAY, 1)]
    assert money.cost(port.job).unmeasured == ()


def test_the_same_number_again_changes_nothing(port):
    can(32)
    finish(port, 14.5)
    right(port, 14.5)
    assert left() == [(17.5, DAY, 1)]
    assert not HistoryEntry.objects.filter(verb="correct-amount").exists()


def test_each_coat_is_put_right_by_itself(port):
    can(32)
    rider = port.visit.van_day.team.get()
    reporting.start(port, rider, posted.at("11:05"))
    port.refresh_from_db()
    reporting.coat_on(port, rider, posted.at("11:30"), 6)
    finish(port, 5)
    right(port, 7, coats.FIRST)
    assert left() == [(20.0, DAY, 1)]
    told = amounts.told(port, Words())
    assert [(one.name, one.took) for one in told] == [
        ("First coat", "7.0 oz"),
        ("Second coat", "5.0 oz"),
    ]


@pytest.mark.parametrize("wrong", [-1, 900, float("nan")])
def test_an_amount_that_cannot_be_right_is_refused(port, wrong):
    can(32)
    finish(port, 14.5)
    with pytest.raises(Refused, match="cannot be right"):
        right(port, wrong)
    assert left() == [(17.5, DAY, 1)]


def test_a_coat_nobody_reported_is_refused(port):
    with pytest.raises(Refused, match="not reported yet"):
        right(port, 5)


def test_nobody_else_may(port):
    finish(port, 5)
    with pytest.raises(Stranger):
        amounts.put_right(port, coats.BOTH, posted.person("eve"), 6)


def counted(clock, ounces):
    posted.stand(clock)
    owner, _ = Account.objects.get_or_create(username="orla", role="owner")
    cans.change(Can.objects.get(), {"left_ml": units.oz_to_ml(ounces)}, by=owner)


def test_a_coat_told_after_the_cans_were_counted_takes_nothing_twice(port):
    """Laid by 12:40, counted at 14:00, told at 15:00 by a phone that had no signal: the count knew of it."""
    can(32)
    counted("14:00", 18)
    posted.stand("15:00")
    finish(port, 14.5)
    assert left() == [(18.0, None, 1)]
    assert said("use-product").endswith(
        "The cans were counted Mon 24 May 14:00, after that, so they stay as they were counted."
    )


def test_a_coat_laid_after_the_count_is_taken_out(port):
    can(32)
    counted("12:00", 30)
    posted.stand("15:00")
    finish(port, 14.5)
    assert left() == [(15.5, DAY, 1)]


def test_a_correction_after_the_count_leaves_the_cans(port):
    can(32)
    finish(port, 14.5)
    counted("14:00", 16)
    right(port, 12)
    assert left() == [(16.0, DAY, 1)]
    assert "so they stay as they were counted" in said()


def test_a_coat_neither_measured_nor_estimated_is_not_known_and_costs_no_nought(port):
    can(32)
    Sheet.objects.update(pack_cents=4600)
    Stage.objects.filter(pk=port.pk).update(product_ml=0)
    port.refresh_from_db()
    finish(port)
    (one,) = amounts.told(port, Words())
    assert one.took == "not known, neither measured nor estimated"
    cost = money.cost(port.job)
    assert (cost.unmeasured, cost.uncounted) == ((), (port.name,))
    right(port, 14.5)
    assert "took 14.5 oz of Lanternglass One, which was not known." in said()
    assert money.cost(port.job).uncounted == ()
