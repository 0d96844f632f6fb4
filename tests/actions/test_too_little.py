"""Eight ounces short for a second coat: the crew stops before it, and the owner reads what lacks and what to buy."""

from datetime import timedelta

import pytest

from dispatch.actions import reporting, show_board, too_little, visit_card
from dispatch.records.models import Can, Forecast, Outfit, Sheet, Stage, Visit
from dispatch.trade import units
from dispatch.trade.words import Words
from tests.actions import plans, posted
from tests.actions.test_stores import can

pytestmark = pytest.mark.django_db
STARTED = plans.at(25, "11:00")


@pytest.fixture
def visit():
    """Port under way, 40 oz by the estimate; at 11:40 its first coat is on."""
    place = plans.outfit()
    job = plans.coat(place)
    Outfit.objects.update(stands_at=plans.at(25, "11:40"))
    Forecast.objects.update(issued_at=plans.at(25, "10:00"))
    Sheet.objects.update(opened_shelf_days=30, pack_cents=9500)
    rook = posted.Person.objects.get(key="rook")
    stage = job.stages.get(key="port-as-she-lies")
    made = posted.visit(posted.van_day(rook, day=STARTED.date()), stage, "11:00", 90)
    Stage.objects.filter(pk=stage.pk).update(
        state="under-way", started_at=STARTED, product_ml=units.oz_to_ml(40)
    )
    return made


def stage(visit):
    return Stage.objects.select_related("job__boat__place", "sheet").get(
        pk=visit.stage_id
    )


def first_on(visit, ounces=None):
    rider = visit.van_day.team.get()
    reporting.coat_on(stage(visit), rider, plans.at(25, "11:35"), ounces)


def told(visit):
    row = Visit.objects.select_related("stage__sheet", "van_day").get(pk=visit.pk)
    return visit_card.of(row, [], plans.at(25, "11:40"), Words()).too_little


def test_the_crew_stops_before_a_second_coat_that_the_cans_do_not_do_for(visit):
    """54 oz in store, 31 by the first coat, so 31 by the second of which 23 are there: 8 short."""
    can(22, opened_on=STARTED.date() - timedelta(days=2))
    can(32)
    assert told(visit) == ""
    first_on(visit, 31)
    assert told(visit).startswith(
        "Stop before coat 2: it takes about 31.0 oz of Lanternglass One by what coat 1 took, "
        "23.0 oz is there: 8.0 oz short. Lay all of it or none, never half a side"
    )
    assert "Coat 2 may follow until " in told(visit)


def test_what_does_is_not_told(visit):
    can(62)
    first_on(visit, 31)
    assert told(visit) == ""


def test_it_is_gone_once_the_can_that_was_found_is_entered(visit):
    can(54)
    first_on(visit, 31)
    assert told(visit)
    can(8)
    assert told(visit) == ""


def test_a_can_past_its_shelf_life_is_not_there_and_is_told_of(visit):
    can(54)
    can(10, opened_on=STARTED.date() - timedelta(days=31))
    first_on(visit, 31)
    assert (
        "23.0 oz is there: 8.0 oz short; 10.0 oz more is past its shelf life."
        in told(visit)
    )


def test_a_first_coat_nobody_measured_is_said_to_be_one(visit):
    can(32)
    first_on(visit)
    assert (
        "about 20.0 oz of Lanternglass One by the estimate, coat 1 not measured, 12.0 oz is there"
        in told(visit)
    )


def test_an_empty_store_is_a_stop_and_asks_for_a_count(visit):
    first_on(visit, 20)
    assert "0.0 oz is there: 20.0 oz short" in told(visit)
    assert "or to count the cans" in told(visit)


def test_a_sheet_without_a_limit_is_said_to_have_none(visit):
    can(54)
    Sheet.objects.update(recoat_latest_ref_h=None)
    first_on(visit, 31)
    assert told(visit).endswith("has no latest time for coat 2 entered.")


def test_a_latest_time_that_no_forecast_tells_is_not_known(visit):
    can(54)
    first_on(visit, 31)
    stage(visit).job.boat.place.forecasts.all().delete()
    assert "Until when coat 2 may follow is not known" in told(visit)


def test_what_an_older_first_coat_waits_for_is_kept_for_it(visit):
    """82 oz in store, 31 once both first coats are on: starboard's, on at 11:20, wants 20 of them; port wants 31 of 11."""
    can(82)
    other = visit.stage.job.stages.get(key="starboard-as-she-lies")
    Stage.objects.filter(pk=other.pk).update(
        state="under-way", started_at=STARTED, product_ml=units.oz_to_ml(40)
    )
    posted.visit(visit.van_day, other, "10:00", 60)
    rider = visit.van_day.team.get()
    reporting.coat_on(Stage.objects.get(pk=other.pk), rider, plans.at(25, "11:20"), 20)
    first_on(visit, 31)
    assert too_little.of(Stage.objects.get(pk=other.pk)) is None
    assert (
        "11.0 oz is there, beside 20.0 oz for a coat 2 whose coat 1 was on earlier: 20.0 oz short."
        in told(visit)
    )


def snags(draft):
    found = show_board.board(draft).snags
    return [one for one in found if "stop before coat 2" in one.sentence]


def test_the_owners_board_has_it_with_the_numbers_and_what_to_buy(visit):
    can(54)
    row = (f"j1.{visit.stage.key}", "11:00", "13:00")
    draft = plans.draft([(25, "10:30", "13:30", [row])])
    assert snags(draft) == []
    first_on(visit, 31)
    (one,) = snags(draft)
    assert one.subject == "Second Wind"
    assert (
        "stop before coat 2, as it takes about 31.0 oz of Lanternglass One by what coat 1 took, 23.0 oz is there: 8.0 oz short. Coat 2 may follow until Tue "
        in one.sentence
    )
    assert one.mend.startswith("Buy 1 can of 32.0 oz: $95. Every can in store")
    assert one.does == "stores"
    can(8)
    assert snags(draft) == []


def test_what_costs_nobody_entered_says_so(visit):
    Sheet.objects.update(pack_cents=0)
    first_on(visit, 40)
    draft = plans.draft([])
    (one,) = snags(draft)
    assert one.mend.startswith("Buy 2 cans of 32.0 oz: its price is not entered.")
    assert not Can.objects.exists()


def test_one_coat_has_no_second(visit):
    first_on(visit, 31)
    Stage.objects.update(flashes=0)
    assert too_little.of(stage(visit)) is None
