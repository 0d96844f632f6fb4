"""What a job takes and what the week wants of the stores, through the calls the pages use.

Minutes, ounces and prices are the outfit's own assumptions, worked out by hand and by a script that shares no code
with the house; about 32 oz for a 20-foot boat, and day two of a coat on another day, are common practice.
"""

import pytest

from dispatch.actions import book, settings, show_board, show_estimate, show_hull
from dispatch.records.models import Can, JobKind, Sheet, Stage
from dispatch.trade import units
from tests.actions import plans, posted, shop
from tests.web import people

pytestmark = pytest.mark.django_db

DAY_TWO = {"inside", "finish", "letters"}


def spray_coat(feet: float, **terms: object):
    """A full spray coat at a driveway, its ounces as the sheet lies in cans of 32 oz."""
    shop.outfit()
    shop.catalogue()
    can = units.oz_to_ml(32)
    given = {"sheet": shop.one_part(pack_ml=can, pack_cents=4600)} | terms
    boat = shop.boat(shop.driveway(), feet=feet)
    kind = JobKind.objects.get(key="spray-coat")
    return book.take_job(key="j1", boat=boat, kind=kind, **given)


@pytest.mark.parametrize(
    ("grade", "repairs", "day_one", "day_two"),
    [(2, {"M": 1}, 899, 495), (4, {"M": 2}, 1299, 655)],
)
def test_a_20_foot_boat_takes_two_days_of_two_people(grade, repairs, day_one, day_two):
    """Grade 2 with a repair: 1,394 labour-minutes; two people 449.5 and 247.5 by the clock. Grade 4 with two: 1,954."""
    found = show_estimate.of(spray_coat(20, grade=grade, repairs=repairs))
    # Shade cloths at transom and rail are an option beside the reckoning.
    cloths = sum(
        took for line in found.stages for name, took in line.steps if "cloths" in name
    )
    visits = {line.key.removeprefix("j1.").split("-")[0]: line for line in found.stages}
    labour = {name: line.labour_minutes for name, line in visits.items()}
    second = sum(took for visit, took in labour.items() if visit in DAY_TWO)
    first = sum(labour.values()) - second - cloths
    assert (first, second) == pytest.approx((day_one, day_two), abs=0.5)
    assert found.likely_minutes - cloths == pytest.approx(day_one + day_two, abs=1)
    # Two by the clock take half of it, each visit in whole five minutes.
    for name, line in visits.items():
        assert 0 <= dict(line.clock)["2"] - labour[name] / 2 <= 5, name


# A flat 1.6 oz a foot would say 48 oz for 30 ft and leave the last side a can short.
@pytest.mark.parametrize(
    ("feet", "ounces", "carried", "cans"),
    [(20, 32.1, 35.3, 2), (24, 42.5, 46.7, 2), (30, 59.9, 65.9, 3), (38, 86.4, 95, 3)],
)
def test_product_by_area_and_whole_cans(feet, ounces, carried, cans):
    found = show_estimate.of(spray_coat(feet)).product
    assert amount(found.need) == pytest.approx(ounces, abs=0.5)
    assert amount(found.carried) == pytest.approx(carried, abs=0.6)
    assert found.packs == cans


def amount(said: str) -> float:
    number, unit = said.split()
    assert unit == "oz"
    return float(number)


def test_a_week_short_of_47_ounces_orders_two_cans_by_mondays_last_hour():
    """Four sealed cans and 20 oz opened 34 days ago, past its 30 days; 175 oz with the reserve, short Thursday 08:00."""
    job = plans.coat(plans.outfit())
    sheet = Sheet.objects.get(key="one")
    can = units.oz_to_ml(32)
    Sheet.objects.update(pack_ml=can, pack_cents=4600, opened_shelf_days=30)
    Can.objects.create(sheet=sheet, left_ml=can, count=4)
    opened = plans.at(24, "12:00").replace(month=4, day=20).date()
    Can.objects.create(sheet=sheet, left_ml=units.oz_to_ml(20), opened_on=opened)
    days = {"port": (24, 40.0), "starboard": (25, 40.0), "ends": (27, 79.1)}
    for visit, (_, ounces) in days.items():
        row = Stage.objects.filter(job=job, key=f"{visit}-as-she-lies")
        row.update(product_ml=units.oz_to_ml(ounces))
    made = [
        (day, "07:30", "16:30", [(f"j1.{visit}-as-she-lies", "08:00", "09:30")])
        for visit, (day, _) in days.items()
    ]
    plan = plans.draft(made)
    board = show_board.board(plan)
    (line,) = [line for line in board.stores if line.key == "one"]
    assert units.ml_to_oz(line.start_ml) == pytest.approx(128)
    assert units.ml_to_oz(line.past_ml) == pytest.approx(20)
    (snag,) = [one for one in board.snags if one.subject == sheet.name]
    assert "47.0 oz short by Thu" in snag.sentence
    assert "is past its shelf life and not counted" in snag.sentence
    # Two working days and twelve hours before Thursday 08:00 is Monday 20:00; orders are taken until noon.
    assert snag.mend == "Order 2 cans by Mon 12:00: $92."
    owner = people.owner()
    settings.change("supply.cutoff_clock", 1320, by=owner)
    assert "Order 2 cans by Mon 20:00: $92." in mends(plan)
    # Three working days: Sunday evening at the latest, when nobody takes orders, so Friday, which is gone.
    settings.change("supply.lead_days", 3, by=owner)
    assert "Order 2 cans at once: $92." in mends(plan)


def mends(plan) -> list[str]:
    return [snag.mend for snag in show_board.board(plan).snags]


def test_the_boats_page_lists_what_is_wrong_with_her_numbers():
    """A registration of another form is doubted, never refused (33 CFR 174.23)."""
    job = posted.sprayed()
    type(job.boat).objects.update(registration="ME 12345 AB", hull_number="X1")
    job.boat.refresh_from_db()
    marks = {what: doubt for what, _, doubt in show_hull.of(job.boat).marks}
    assert "has not the form" in marks["Registration"]
    assert "Check it at the transom" in marks["Hull number"]
