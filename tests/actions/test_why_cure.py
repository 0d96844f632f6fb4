"""Why film is set when it is: the numbers behind the moments, reckoned by hand here at one temperature.

At 70 F an hour counts an hour; at 52 F, 18 F less, half of one (the clock's own rule). Lanternglass One of the demo is
rain-safe after 4 h and sandable after 14 h at 70 F.
"""

import pytest

from dispatch.actions import holds, show_why, why_cure
from dispatch.records.models import ForecastHour, Sheet, Stage, WeekPlan
from dispatch.trade.spans import Span
from dispatch.trade.units import f_to_c
from dispatch.trade.words import Words
from tests.actions import posted

pytestmark = pytest.mark.django_db
LAID = posted.at("12:00")


@pytest.fixture
def port():
    job = posted.sprayed()
    posted.warm(job.boat.place)
    posted.stand("12:00")
    return Stage.objects.select_related("job__boat__place", "sheet").get(key="port")


def told(stage, words=None):
    return why_cure.lines(stage, LAID, words or Words())


def test_each_moment_stands_with_the_sheets_hours(port):
    safe, sand, rule = told(port)
    assert safe.startswith("Rain-safe about Mon 16:00, from Mon 15:")
    assert (
        "4 h of cure at 70 °F by the sheet of Lanternglass One, laid Mon 12:00" in safe
    )
    assert sand.startswith("Sandable about Tue 02:00")
    assert "an hour counts 1.00 h at 70 °F" in safe
    assert "nothing below 50 °F (the sheet)" in rule
    assert "1.5 °F colder and 2 °F warmer" in rule


def test_the_cold_counts_by_half(port):
    ForecastHour.objects.update(air_c=f_to_c(52), cloud_pct=100)
    safe, *_ = told(port)
    assert safe.startswith("Rain-safe about Mon 20:00")
    assert "0.50 h at 52 °F" in safe


def test_an_hour_too_cold_counts_nothing(port):
    ForecastHour.objects.filter(at=posted.at("13:00")).update(air_c=f_to_c(49))
    safe, *_ = told(port)
    assert safe.startswith("Rain-safe about Mon 17:00")
    assert "0.00 h at 49 °F" in safe


def test_what_no_forecast_reaches_is_said_to_be_unknown(port):
    ForecastHour.objects.filter(at__gte=posted.at("15:00")).delete()
    safe, *_ = told(port)
    assert safe.startswith("Rain-safe: not within this forecast; it wants 4 h of cure")


def test_a_hull_that_stays_too_cold_never_sets(port):
    ForecastHour.objects.update(air_c=f_to_c(45))
    assert told(port)[0].startswith(f"Rain-safe: {holds.TOO_COLD}; it wants")


def test_an_old_forecast_is_told_with_its_age(port):
    posted.stand("11:00", posted.date(2027, 5, 24))
    assert "; wider, as the forecast is 16 h old" in told(port)[-1]


def test_metric_outfits_read_celsius(port):
    _, _, rule = told(port, Words(system="metric"))
    assert "1 h at 21.1 °C, twice that for every 10.0 °C more" in rule
    assert "0.8 °C colder and 1.1 °C warmer" in rule


def test_it_stands_on_the_page_of_reasons(port):
    holds.write(port, LAID, planned=False)
    week = Span(LAID, posted.at("18:00"))
    found = show_why.why(port, None, week)
    assert found.film == told(port)
    assert show_why.why(Stage.objects.get(key="mask"), None, week).film == ()


def test_without_a_sheet_there_is_none(port):
    Sheet.objects.update(rain_safe_ref_h=None)
    port.sheet.refresh_from_db()
    assert told(port) == ()
    assert not WeekPlan.objects.exists()
