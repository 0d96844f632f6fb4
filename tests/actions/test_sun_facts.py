"""Sun on a hull: shade now, its next change, and the latest start of a slot, against the astral library."""

from datetime import UTC, timedelta

import pytest
from astral import Observer
from astral.sun import azimuth, elevation, sunrise, sunset

from dispatch.actions import sun_facts
from dispatch.records.models import Stage
from dispatch.trade import shade
from dispatch.trade.sky import Site
from dispatch.trade.spans import Span
from tests.actions import posted, shop
from tests.trade.lanternglass import ZONE

pytestmark = pytest.mark.django_db
SITE = Site(lat=44.128, lon=-69.182, zone=ZONE)


@pytest.fixture
def visit():
    job = posted.sprayed()
    day = posted.van_day(posted.person("rook"))
    return posted.visit(day, job.stages.get(key="port"), "11:00", 90)


def test_the_sun_stands_where_astral_has_it(visit):
    at = posted.at("11:00")
    facts = sun_facts.of(visit, at, 85)
    observer = Observer(SITE.lat, SITE.lon)
    assert facts.azimuth_deg == pytest.approx(azimuth(observer, at), abs=0.1)
    assert facts.elevation_deg == pytest.approx(
        elevation(observer, at, with_refraction=False), abs=0.1
    )


def test_it_rises_and_sets_as_astral_has_it(visit):
    """Astral counts refraction and the sun's rim, about 5 minutes here; the dial the true horizon."""
    facts = sun_facts.of(visit, posted.at("11:00"), 85)
    observer = Observer(SITE.lat, SITE.lon)
    for ours, theirs in (
        (facts.rise, sunrise(observer, posted.MONDAY, tzinfo=UTC)),
        (facts.set, sunset(observer, posted.MONDAY, tzinfo=posted.at("12:00").tzinfo)),
    ):
        assert abs(ours[0] - theirs) < timedelta(minutes=12)


def test_each_side_changes_when_the_shade_does(visit):
    at, hull = posted.at("11:00"), shade.Hull(heading_true_deg=85)
    for side in sun_facts.of(visit, at, 85).sides:
        unix = shade.grid(Span(at, at + timedelta(minutes=1)), 1)
        assert side.shaded is not bool(shade.lit(SITE, hull, side.panel, unix)[0])
        after = shade.grid(Span(side.until, side.until + timedelta(minutes=1)), 1)
        assert bool(shade.lit(SITE, hull, side.panel, after)[0]) is side.shaded


def test_a_slot_begun_at_the_latest_start_stays_in_shade_and_later_it_does_not(visit):
    facts = sun_facts.of(visit, posted.at("11:00"), 85)
    # The hull is not known for every hour: 45 min by the coldest that the sheet allows, 55 F.
    assert facts.slot_minutes == 90 + 45
    hull, slot = shade.Hull(heading_true_deg=85), timedelta(minutes=facts.slot_minutes)
    whole = Span(facts.start_by, facts.start_by + slot)
    assert shade.shaded_through(SITE, hull, "port", whole)
    late = Span(whole.start + timedelta(minutes=2), whole.end + timedelta(minutes=2))
    assert not shade.shaded_through(SITE, hull, "port", late)


def test_a_slot_never_lies_outside_the_places_hours(visit):
    """Heading 180, port faces east: in shade from midday to the night, but the place shuts at 19:00."""
    facts = sun_facts.of(visit, posted.at("13:00"), 180)
    slot = timedelta(minutes=facts.slot_minutes)
    assert facts.start_by + slot == posted.at("19:00")


def test_work_that_needs_no_shade_has_no_slot(visit):
    Stage.objects.update(panels=[])
    visit.stage.refresh_from_db()
    assert sun_facts.of(visit, shop.NOW, 85).start_by is None
