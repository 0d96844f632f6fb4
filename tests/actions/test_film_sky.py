"""A newer sky: film that sets is reckoned again hour by hour, its customer told anew where it matters, once."""

from datetime import datetime, timedelta

import pytest

from dispatch.actions import (
    due,
    film_sky,
    plugins,
    reporting,
    sweeping,
    telling,
    weather,
)
from dispatch.records.models import (
    Customer,
    DueWork,
    HistoryEntry,
    Hold,
    Notice,
    Outfit,
    Stage,
)
from tests.actions import posted
from tests.trade.lanternglass import WEATHER

pytestmark = pytest.mark.django_db
TUESDAY = posted.MONDAY + timedelta(days=1)
# 18 F below 70 F, the rate of cure is half: two hours for one.
HALF_C = 11.1111111111


@pytest.fixture
def port():
    """Port laid at 12:00 under 70 F throughout: sandable about 02:00, by the sheet's fourteen hours."""
    job = posted.sprayed()
    posted.warm(job.boat.place)
    Customer.objects.update(phone="+12075550131", text_consent=True)
    stage = job.stages.get(key="port")
    day = posted.van_day(posted.person("rook"))
    posted.visit(day, stage, "10:30", 90)
    posted.visit(day, job.stages.get(key="ends"), "14:00", 60)
    posted.stand("13:00")
    reporting.finish(stage, day.team.get(), posted.at("12:00"))
    return stage


def comes(stage, clock, air_c):
    made = posted.warm(stage.job.boat.place, issued=posted.at(clock))
    made.hours.update(air_c=air_c)
    posted.stand(clock)
    film_sky.reckon(stage.job.boat.place)


def sandable(stage, **which):
    return Hold.objects.get(stage=stage, kind="sandable", **which)


def told():
    rows = Notice.objects.filter(reason="film-wet").exclude(state="dropped")
    return list(rows.order_by("id"))


def test_colder_hours_to_come_set_it_later_and_those_gone_by_still_count(port):
    """Six hours at the full rate by 18:00; the eight left at half of it take sixteen: Tuesday 10:00."""
    assert abs(sandable(port).end - posted.at("02:00", TUESDAY)) < timedelta(minutes=2)
    comes(port, "18:00", HALF_C)
    hold = sandable(port)
    assert abs(hold.end - posted.at("10:00", TUESDAY)) < timedelta(minutes=5)
    assert hold.earliest < hold.end < hold.latest
    assert (hold.planned, hold.start) == (False, posted.at("12:00"))


def test_the_history_tells_both_times(port):
    comes(port, "18:00", HALF_C)
    row = HistoryEntry.objects.get(verb="film-turned")
    assert row.actor == "sky"
    assert "Second Wind, by the new forecast: " in row.sentence
    assert "sandable about Tue 10:0" in row.sentence
    assert "before about Tue 02:0" in row.sentence


def test_the_same_sky_again_changes_and_tells_nothing(port):
    film_sky.reckon(port.job.boat.place)
    assert not HistoryEntry.objects.filter(verb="film-turned").exists()
    assert len(told()) == 1


def test_film_that_has_set_is_left_alone(port):
    end = sandable(port).latest
    Outfit.objects.update(stands_at=end)
    posted.warm(port.job.boat.place, issued=end).hours.update(air_c=HALF_C)
    film_sky.reckon(port.job.boat.place)
    assert sandable(port).latest == end


def test_planned_film_goes_by_the_newest_sky_without_a_word(port):
    ends = Stage.objects.get(job=port.job, key="ends")
    film_sky.reckon(port.job.boat.place)
    assert abs(
        sandable(ends, planned=True).end - posted.at("05:00", TUESDAY)
    ) < timedelta(minutes=2)
    posted.warm(port.job.boat.place, issued=posted.at("13:00")).hours.update(
        air_c=HALF_C
    )
    film_sky.reckon(port.job.boat.place)
    late = posted.at("15:00") + timedelta(hours=28)
    assert abs(sandable(ends, planned=True).end - late) < timedelta(minutes=5)
    assert all("ends" not in notice.fact for notice in told())


def sent():
    Notice.objects.filter(state="waiting").update(state="sent")


def test_who_was_told_too_soon_a_time_is_told_the_later_one_once(port):
    sent()
    comes(port, "18:00", HALF_C)
    film_sky.reckon(port.job.boat.place)
    first, second = told()
    assert (first.state, second.state) == ("sent", "waiting")
    assert datetime.fromisoformat(second.version) == sandable(port).latest


def test_who_was_told_a_time_later_than_it_is_now_is_not_written_to_again(port):
    sent()
    comes(port, "18:00", 26)
    assert sandable(port).end < posted.at("02:00", TUESDAY)
    assert len(told()) == 1


def test_a_message_that_has_not_gone_out_gives_way_to_the_newer_one(port):
    comes(port, "18:00", HALF_C)
    (only,) = told()
    assert datetime.fromisoformat(only.version) == sandable(port).latest


def test_what_was_not_known_is_told_once_it_is(port):
    Hold.objects.update(end=None, earliest=None, latest=None)
    Notice.objects.update(version="unknown 2027", state="sent")
    film_sky.reckon(port.job.boat.place)
    assert "hard enough to cover Tue 25 May between" in told()[-1].body


def test_a_boat_told_to_be_collected_is_told_the_later_time(port):
    Stage.objects.exclude(pk=port.pk).delete()
    port.job.state, port.job.handed_back_at = "handed-back", posted.at("13:00")
    port.job.save()
    Notice.objects.create(
        reason="pickup",
        fact="j1 pickup",
        version=sandable(port).latest.isoformat(),
        customer=port.job.boat.customer,
        job=port.job,
        channel="text",
        to="+12075550131",
        body="Come.",
        due_at=posted.at("13:00"),
        state="sent",
    )
    comes(port, "18:00", HALF_C)
    later = Notice.objects.get(reason="pickup", state="waiting")
    assert datetime.fromisoformat(later.version) == sandable(port).latest


def test_a_forecast_that_is_taken_in_has_the_film_reckoned(port, tmp_path):
    plugins.enable(
        "weather_file",
        {
            "folder": str(WEATHER),
            "file": "weather_as_it_happened.csv",
            "issued_at": "2027-05-24T12:30:00-04:00",
        },
    )
    plugins.enable("notify_file", {"file": str(tmp_path / "sent.jsonl")})
    before = sandable(port).end
    weather.take_in(port.job.boat.place)
    assert DueWork.objects.filter(verb="reckon-film", key="s5").exists()
    sweeping.sweep()
    assert sandable(port).end != before
    assert not DueWork.objects.filter(done_at=None).exclude(fault="").exists()
    assert telling.drain() == 1
    due.put("reckon-film", "s5")
    sweeping.sweep()
    assert telling.drain() == 0
