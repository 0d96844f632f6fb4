"""The clock: the date it is by the outfit's clock, and in another time zone."""

import pytest

from dispatch.actions import clock
from tests.actions import posted, shop

pytestmark = pytest.mark.django_db


def test_today_is_the_outfits_date_late_in_the_evening_too():
    shop.outfit()
    posted.stand("23:30")
    assert clock.today() == posted.MONDAY


def test_in_another_time_zone_it_may_be_another_day():
    shop.outfit()
    posted.stand("23:30")
    assert clock.today("America/Los_Angeles") == posted.MONDAY
    assert clock.today("UTC").day == posted.MONDAY.day + 1
