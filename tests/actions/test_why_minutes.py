"""Why a job's minutes and ounces are what they are: the sums told add up to those of the estimate.

The worked example is the demo's own: 20 ft at grade 2 are 180 labour-minutes to deoxidise, 9 min a foot.
"""

import re

import pytest

from dispatch.actions import show_estimate, why_minutes
from dispatch.records.models import Boat, Outfit, Place, Setting
from dispatch.trade import units
from tests.actions import posted
from tests.web import people

pytestmark = pytest.mark.django_db


@pytest.fixture
def job():
    return posted.sprayed(repairs={"M": 1})


def told(job):
    job.refresh_from_db()
    job.boat.refresh_from_db()
    return why_minutes.of(job)


def line(lines, name):
    return next(one for one in lines if one.startswith(name))


def test_a_step_is_its_rate_by_length_and_factor(job):
    found = told(job)
    deoxidise = line(found.steps, "Deoxidise")
    assert "9 min a foot at grade 2 x 20 ft x 1.00 = 180 min;" in deoxidise
    assert deoxidise.endswith(
        "then she is left 45 min; done while she dries or a fill kicks."
    )
    assert line(found.steps, "Gelcoat repair").endswith(
        "1 repair M x 60 min = 60 min; then the fill is left 90 min at 70 °F."
    )
    assert found.factor.startswith(
        "1.00 = 1.00 for 20 ft (more than 1 over 24 ft) x 1 for"
    )


def test_the_sums_are_those_of_the_estimate(job):
    total = sum(
        float(re.search(r"(?:= (\d+) min|: (\d+) min once\.)", one).expand(r"\1\2"))
        for one in told(job).steps
    )
    stages = show_estimate.of(job).stages
    # Shade cloths come with the way she is sprayed, not from the catalogue.
    own = sum(m for s in stages for name, m in s.steps if "cloths" not in name)
    assert total == pytest.approx(own, abs=len(told(job).steps))


def test_a_longer_boat_of_another_shape_without_water_has_her_factors(job):
    Boat.objects.update(length_m=units.ft_to_m(30), shape="cabin")
    Place.objects.update(water=False)
    job.boat.place.refresh_from_db()
    factor = told(job).factor
    # (30 / 24) ^ 0.4 = 1.093; 1.25 for a cabin, 1.10 without water: 1.50 together.
    assert factor.startswith("1.50 = 1.09 for 30 ft")
    assert "1.25 for her shape, cabin x 1.1 for Marrow Road" in factor


def test_ounces_are_the_rate_by_the_area(job):
    side = line(told(job).product, "Each side")
    # 20 ft x 2.8 ft = 56 sq ft; 2 x 0.124 oz x 56 = 13.9 oz.
    assert "2 coats x 0.124 oz a sq ft x 56.0 sq ft" in side
    assert side.endswith("= 13.9 oz.")
    assert "2 coats x 0.124 oz a sq ft x 17.5 sq ft" in line(
        told(job).product, "Transom"
    )


def test_metric_outfits_read_metres_and_millilitres(job):
    Outfit.objects.update(units="metric")
    found = told(job)
    assert "29.5 min a metre at grade 2 x 6.1 m x 1.00 = 180 min;" in line(
        found.steps, "Deoxidise"
    )
    assert "5.2 m²" in line(found.product, "Each side")


def test_what_was_learnt_is_a_factor_of_its_own(job):
    Setting.objects.create(name="learnt.spray-coat.2", value=1.2)
    found = told(job)
    assert "then 1.2 times, as the last like it taught" in found.factor
    assert "x 1.2 = 216 min" in line(found.steps, "Deoxidise")


def test_it_stands_on_the_estimates_page(client, job):
    client.force_login(people.owner())
    page = client.get("/jobs/j1/").text.replace("\xa0", " ")
    assert "Why? How minutes and product come about" in page
    assert "9 min a foot at grade 2 x 20 ft x 1.00 = 180 min;" in page


def test_a_shape_without_a_factor_has_no_reckoning(job):
    Boat.objects.update(shape="hovercraft")
    assert told(job) is None
