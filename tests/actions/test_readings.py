"""A hull is read on site: the reading goes before the model on every page, until it is too old.

Spread of 5 F: common practice. 64 F at 78 % has its dew point at 57.0 F (Magnus by Lawrence 2005).
"""

from datetime import timedelta

import pytest

from dispatch.actions import readings, ready, show_why, visit_sky, weather
from dispatch.actions.errors import Refused, Stale, Stranger
from dispatch.actions.readings import Read
from dispatch.records.models import (
    Boat,
    DueWork,
    ForecastHour,
    HistoryEntry,
    Outfit,
    Reading,
    Visit,
)
from dispatch.trade.spans import Span
from dispatch.trade.units import f_to_c
from tests.actions import plans, posted

pytestmark = pytest.mark.django_db
A5 = Read(surface_c=f_to_c(61), air_c=f_to_c(64), rh_pct=78)


@pytest.fixture
def port():
    """Port of a boat at 64 F and 78 %, overcast, to be sprayed on Monday at ten; it is ten."""
    job = posted.sprayed()
    rook = posted.person("rook", "spray-1", "hose")
    forecast = posted.warm(job.boat.place)
    ForecastHour.objects.filter(forecast=forecast).update(
        air_c=f_to_c(64), dew_c=f_to_c(57), rh_pct=78
    )
    plans.plugins.enable("weather_veto", {})
    posted.stand("10:00")
    stage = job.stages.get(key="port")
    job.stages.filter(key__in=("prep", "mask")).update(
        state="done", ended_at=posted.at("09:00")
    )
    posted.visit(posted.van_day(rook), stage, "10:00", 90)
    weather.judge(stage)
    return stage


def rook():
    return posted.Person.objects.get(key="rook")


def word(stage) -> ready.Ready:
    return ready.of(Visit.objects.get(stage=stage), posted.at("10:00"))


def test_by_the_model_she_may_be_sprayed(port):
    assert word(port).word == "GO"


def test_a_hull_read_at_61_degrees_is_no_by_a_spread_of_four(port):
    readings.take(port, rook(), posted.at("10:00"), A5)
    weather.judge(port)
    found = word(port)
    assert found.word != "GO"
    assert found.sentence == (
        "surface 61 °F (read 10:00), dew point 57 °F: spread 4 °F, needs 5 °F"
    )
    assert found.overruled_by == "wall"
    why = show_why.why(port, None, weather.horizon())
    assert any("(read 10:00)" in row.sentence for row in why.against)
    assert Visit.objects.get(stage=port).sky_says == "forbids"


def test_until_it_is_judged_the_sky_is_not_known(port):
    Visit.objects.update(sky_says="allows")
    readings.take(port, rook(), posted.at("10:00"), A5)
    found = word(port)
    assert (found.word, found.until) == ("WAIT", None)
    assert "She was read at 10:00" in found.sentence
    assert "Load the page again" in found.sentence
    assert Visit.objects.get(stage=port).sky_says == "unknown"
    assert DueWork.objects.filter(verb="judge-stage", key=str(port.pk)).exists()


def test_a_reading_of_yesterday_beats_nothing(port):
    Reading.objects.create(
        boat=port.job.boat,
        kind="surface_c",
        value=f_to_c(50),
        read_at=posted.at("10:00") - timedelta(hours=20),
        arrived_at=posted.at("10:00"),
    )
    weather.judge(port)
    assert word(port).word == "GO"


def test_it_is_written_down_with_its_numbers(port):
    readings.take(port, rook(), posted.at("09:50"), A5)
    row = HistoryEntry.objects.get(verb="read-hull")
    assert row.actor == "Rook"
    assert row.sentence == (
        "Second Wind: Read 09:50: hull 61 °F, air 64 °F, humidity 78 %, so dew point 57 °F, "
        "spread 4 °F. It counts until 13:50."
    )
    assert list(readings.lines(port.job.boat, posted.at("10:00"))) == [
        row.sentence.removeprefix("Second Wind: ")
    ]


@pytest.mark.parametrize(
    ("at", "read", "said"),
    [
        ("10:05", A5, "has not come yet"),
        ("05:30", A5, "longer ago than the 4 h"),
        ("10:00", Read(), "Nothing was read"),
        ("10:00", Read(surface_c=100), "hull's temperature cannot be 212 °F"),
        ("10:00", Read(rh_pct=0), "humidity cannot be 0 %"),
        ("10:00", Read(surface_c=20, air_c=90), "air's temperature cannot be 194 °F"),
    ],
)
def test_what_cannot_be_is_refused_and_nothing_kept(port, at, read, said):
    with pytest.raises(Refused, match=said):
        readings.take(port, rook(), posted.at(at), read)
    assert not Reading.objects.exists()
    assert word(port).word == "GO"


def test_told_twice_it_is_kept_once(port):
    readings.take(port, rook(), posted.at("10:00"), A5)
    with pytest.raises(Stale, match="stored already"):
        readings.take(port, rook(), posted.at("10:00"), A5)
    assert Reading.objects.count() == 3


def test_a_stranger_reads_nothing(port):
    with pytest.raises(Stranger):
        readings.take(port, posted.person("eve"), posted.at("10:00"), A5)


def test_a_heading_read_by_compass_turns_what_hangs_on_it(port):
    readings.head(port, rook(), posted.at("10:00"), 350, "magnetic")
    port.refresh_from_db()
    assert port.heading_true_deg == pytest.approx(334.5)
    boat = Boat.objects.get()
    assert (boat.heading_deg, boat.heading_reference) == (350, "magnetic")
    row = HistoryEntry.objects.get(verb="read-heading")
    assert row.sentence == "Second Wind heads 350° by compass, 085° before."
    asked = Span(posted.at("10:00"), posted.at("11:30"))
    assert visit_sky.of(port, asked, posted.at("10:00")).word == "unknown"


def test_a_heading_where_nobody_had_read_one_gives_the_sides_theirs(port):
    port.job.stages.update(heading_true_deg=None)
    Boat.objects.update(heading_deg=None)
    port.refresh_from_db()
    readings.head(port, rook(), posted.at("10:00"), 85, "true")
    port.refresh_from_db()
    assert port.heading_true_deg == 85
    assert "not known before" in HistoryEntry.objects.get(verb="read-heading").sentence


@pytest.mark.parametrize(
    ("heading", "reference", "declination", "said"),
    [
        (361, "true", -15.5, "0 to 360°"),
        (90, "grid", -15.5, "true or by compass"),
        (90, "magnetic", None, "has no declination"),
    ],
)
def test_a_heading_that_cannot_be_used_is_refused(
    port, heading, reference, declination, said
):
    place = port.job.boat.place
    place.declination_deg = declination
    place.save()
    with pytest.raises(Refused, match=said):
        readings.head(port, rook(), posted.at("10:00"), heading, reference)
    assert Boat.objects.get().heading_deg == 85


def test_metric_people_read_it_in_celsius(port):
    Outfit.objects.update(units="metric")
    readings.take(port, rook(), posted.at("10:00"), A5)
    assert "hull 16.1 °C" in HistoryEntry.objects.get(verb="read-hull").sentence
