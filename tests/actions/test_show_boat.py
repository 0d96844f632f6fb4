"""A boat's page: where she stands, what comes next, how to help; no hour before 07:00, no name, no price."""

import re
from dataclasses import asdict
from datetime import timedelta

import pytest

from dispatch.actions import access, reporting, show_boat
from dispatch.actions.errors import Stranger
from dispatch.records.models import Boat, Customer, Forecast, Job, Outfit, Stage, Visit
from tests.actions import posted, shop

pytestmark = pytest.mark.django_db
CLOCK = re.compile(r"\b(?:09:5|10:0|10:1)\d")


@pytest.fixture
def job():
    made = posted.sprayed(price_cents=136000, note="Pays late.")
    posted.warm(made.boat.place)
    return made


@pytest.fixture
def rook(job):
    rider = posted.person("rook")
    posted.visit(posted.van_day(rider), job.stages.get(key="port"), "10:03", 90)
    posted.stand("06:59")
    return rider


def page(job):
    return show_boat.boat_page(Job.objects.get(pk=job.pk))


def sprayed(job, rook):
    posted.stand("13:00")
    reporting.finish(job.stages.get(key="port"), rook, posted.at("11:30"))


def test_before_anything_is_done_it_says_so(job):
    assert page(job).stands == "Second Wind is in our book; no work on her has begun."
    assert "no day yet" in page(job).comes_next


def test_before_seven_of_the_day_only_a_part_of_it_is_told(job, rook):
    said = page(job)
    assert "Monday 24 May in the morning, before 12:00" in said.comes_next
    assert not CLOCK.search(str(asdict(said)))


def test_from_seven_on_an_hour_is_told_that_is_not_the_minute_planned(job, rook):
    posted.stand("07:00")
    said = page(job).comes_next
    assert "today between 09:48 and 10:48" in said
    assert "10:03" not in said


def test_from_seven_of_the_day_before_still_only_a_part(job, rook):
    posted.stand("07:30", posted.MONDAY - timedelta(days=1))
    assert not CLOCK.search(str(asdict(page(job))))


def test_a_visit_the_sky_spoilt_will_probably_move_without_its_reason(job, rook):
    Visit.objects.update(
        sky_says="forbids", spoilt="Gust 21 mph near Mab, limit 14 mph."
    )
    said = str(asdict(page(job)))
    assert "will probably move" in said
    assert "Mab" not in said


def test_work_going_on_is_told(job, rook):
    posted.stand("11:00")
    reporting.start(job.stages.get(key="port"), rook, posted.at("10:10"))
    assert page(job).stands == (
        "The crew is at work on Second Wind now: Spray port, two coats."
    )


def test_laid_film_is_setting_with_its_range_and_is_not_to_be_touched(job, rook):
    """Fourteen hours of cure at 70 F from 11:30, by the sheet; the range is a fresh forecast's."""
    Forecast.objects.update(issued_at=posted.at("09:00"))
    sprayed(job, rook)
    said = page(job)
    assert said.stands.startswith(
        "Port side sprayed and setting: hard enough to cover about Tue 01:3"
    )
    assert "at the latest Tue 02:" in said.stands
    assert said.panels == {"port": "wet", "starboard": "bare", "ends": "bare"}
    assert any(line.startswith("Do not touch, wash or cover") for line in said.help)


def test_all_her_sides_are_listed_with_one_and(job, rook):
    for key in ("port", "starboard", "ends"):
        stage = job.stages.get(key=key)
        if key != "port":
            posted.visit(Visit.objects.first().van_day, stage, "10:03", 90)
    posted.stand("13:00")
    for key in ("port", "starboard", "ends"):
        reporting.finish(job.stages.get(key=key), rook, posted.at("11:30"))
    assert page(job).stands.startswith(
        "Port side, starboard side, transom and top rail sprayed and setting: hard"
    )


@pytest.mark.parametrize(
    ("state", "words"), [("called-off", "not done"), ("put-off", "put off, no day yet")]
)
def test_a_job_that_is_off_promises_no_day_of_any_step(job, state, words):
    job.state = state
    job.save()
    assert {piece.words for piece in page(job).strip} == {words}


def test_a_boat_handed_back_says_what_was_not_done(job):
    job.handed_back_at = posted.at("11:30")
    job.save()
    said = page(job)
    assert {piece.words for piece in said.strip} == {"not done"}
    assert said.comes_next.startswith("Nothing more is planned; not done: ")
    Stage.objects.update(state="done", ended_at=posted.at("11:00"))
    assert page(job).comes_next == "Nothing more is planned; the work is done."


def test_film_is_hard_only_at_the_latest_end_of_its_range(job, rook):
    sprayed(job, rook)
    hold = job.stages.get(key="port").holds.get(kind="sandable")
    posted.stand("01:40", posted.MONDAY + timedelta(days=1))
    assert page(job).panels["port"] == "wet"
    Outfit.objects.update(stands_at=hold.latest)
    assert page(job).panels["port"] == "hard"


def test_film_whose_end_is_not_known_is_never_called_hard(job, rook):
    job.boat.place.forecasts.all().delete()
    sprayed(job, rook)
    posted.stand("12:00", posted.MONDAY + timedelta(days=4))
    said = page(job)
    assert "not known yet" in said.stands
    assert said.panels["port"] == "wet"
    assert "Do not touch, wash or cover her until we tell you." in said.help


def test_two_part_keeps_people_off_by_the_sheets_distance(job, rook):
    Stage.objects.update(sheet=shop.one_part(key="two", name="Two", kind="two-part"))
    assert any("25 ft" in line for line in page(job).help)


def test_no_price_no_note_no_crew_and_nobody_else(job, rook):
    other = Customer.objects.create(name="Vantongeren", time_zone="UTC")
    Boat.objects.create(
        key="mab", name="Mab", customer=other, length_m=9, place=job.boat.place
    )
    sprayed(job, rook)
    said = str(asdict(page(job)))
    for word in ("1360", "136000", "Pays late", "Rook", "Vantongeren", "Mab", "Knot"):
        assert word not in said


def test_of_several_ways_the_strip_tells_one(job):
    port = job.stages.get(key="port")
    Stage.objects.filter(pk=port.pk).update(variant="plain")
    Stage.objects.create(
        job=job, key="port-roofed", name=port.name, position=90, variant="roofed"
    )
    names = [piece.name for piece in page(job).strip]
    assert names.count(port.name) == 1


def test_the_link_opens_the_job_and_its_word_cannot_be_altered(job):
    word = show_boat.link(job).split("/boat/")[1].strip("/")
    assert access.job_of_link(word) == job
    with pytest.raises(Stranger):
        access.job_of_link(word[:-1] + ("a" if word[-1] != "a" else "b"))


def test_put_off_is_told_and_asks_nothing_of_her(job, rook):
    Job.objects.update(state="put-off")
    said = page(job)
    assert "put off" in said.stands
    assert said.help == ()


@pytest.mark.parametrize(
    ("state", "told"),
    [
        ("agreed", True),
        ("in-hand", True),
        ("asked", False),
        ("put-off", False),
        ("called-off", False),
    ],
)
def test_a_promise_is_told_only_of_a_job_that_is_planned(job, state, told):
    Job.objects.update(state=state, promise="hard", promised_by=posted.at("17:00"))
    assert page(job).promised == ("We promised her for Monday 24 May." if told else "")


def test_the_page_gives_the_outfits_number_to_ring(job):
    Outfit.objects.update(phone="+12075550100")
    assert page(job).phone == "+12075550100"


def test_handed_back_tells_the_care_and_the_numbers_that_are_off(job, rook):
    Boat.objects.update(registration="ME 123 AB")
    Job.objects.update(state="handed-back", handed_back_at=posted.stand("12:00"))
    said = page(job)
    assert said.stands == "Second Wind is finished, since Mon 24 May."
    assert any("For the first 14 days please ask us" in line for line in said.help)
    assert any("numbers are not on her" in line for line in said.help)
