"""Taking a job: its stages by the catalogue, and refusals that leave nothing behind."""

from datetime import timedelta

import pytest

from dispatch.actions import book
from dispatch.actions.errors import Refused
from dispatch.records.models import DueWork, HistoryEntry, Job, JobKind, Stage
from tests.actions import shop

pytestmark = pytest.mark.django_db


@pytest.fixture
def kind():
    shop.outfit()
    shop.catalogue()
    return JobKind.objects.get(key="spray-coat")


def take(kind, place, **terms):
    given = {"sheet": shop.one_part(), "grade": 2, "repairs": {"M": 1}}
    return book.take_job(key="j1", boat=shop.boat(place), kind=kind, **(given | terms))


def labour(job):
    return sum(
        step["labour_minutes"] for stage in job.stages.all() for step in stage.steps
    )


@pytest.mark.parametrize(
    ("grade", "repairs", "minutes"), [(2, {"M": 1}, 1394), (4, {"M": 2}, 1954)]
)
def test_a_20_foot_coat_takes_the_labour_of_the_catalogue(
    kind, grade, repairs, minutes
):
    """Control totals of the outfit's own rates; the shade cloths (55) are rigged beside the catalogue."""
    job = take(kind, shop.driveway(), grade=grade, repairs=repairs)
    assert labour(job) - 55 == pytest.approx(minutes, abs=1)


def test_stages_come_in_order_with_cure_between(kind):
    job = take(kind, shop.driveway())
    assert [stage.key for stage in job.stages.all()][:4] == [
        "prep",
        "mask",
        "port",
        "starboard",
    ]
    finish = job.stages.get(key="finish")
    assert {link.min_ref_h for link in finish.links.all()} == {14}


# That a large fill kicks overnight and nothing follows it that day is common practice; the counts and hours are
# assumptions: 10 h at 70 F for a large one, 1.5 for a medium one.
@pytest.mark.parametrize(
    ("repairs", "ref_h"),
    [({"M": 4}, None), ({"M": 5}, 1.5), ({"L": 1}, 10), ({"S": 9}, None)],
)
def test_many_or_large_repairs_are_a_visit_of_their_own_the_day_before(
    kind, repairs, ref_h
):
    shop.one_part(key="fill", name="Fillwright Gel", kind="gelcoat")
    job = take(kind, shop.driveway(), repairs=repairs)
    fills = job.stages.filter(key="fill")
    assert fills.exists() is (ref_h is not None)
    filled = [
        s for s in job.stages.all() if any("repair" in t["name"] for t in s.steps)
    ]
    assert len(filled) == 1
    if ref_h is None:
        return
    (link,) = job.stages.get(key="prep").links.all()
    assert (link.before.key, link.min_ref_h) == ("fill", ref_h)
    assert [one.key for one in job.stages.all()][:2] == ["fill", "prep"]
    assert fills.get().family == "gelcoat"
    assert {need["skill"] for need in fills.get().needs} == {"repair"}


# That resin wants warmth and dryness, and washing and scuffing do not, is common practice.
@pytest.mark.parametrize(
    ("repairs", "family"), [({}, "prep"), ({"S": 1}, "gelcoat"), ({"L": 1}, "prep")]
)
def test_only_a_visit_that_fills_waits_for_the_sky_of_a_fill(kind, repairs, family):
    job = take(kind, shop.driveway(), repairs=repairs)
    assert job.stages.get(key="prep").family == family


def test_every_stage_is_left_to_be_judged(kind):
    job = take(kind, shop.driveway())
    assert DueWork.objects.filter(verb="judge-stage").count() == job.stages.count()


@pytest.mark.parametrize(
    ("changes", "sentence"),
    [
        ({"spray_rule": "none"}, "allows no spraying"),
        ({"spray_rule": "screens"}, "side-screens only"),
    ],
)
def test_a_place_that_forbids_it_refuses_and_keeps_nothing(kind, changes, sentence):
    place = shop.driveway(**changes)
    with pytest.raises(Refused, match=sentence):
        take(kind, place)
    assert not Job.objects.exists()
    assert not Stage.objects.exists()
    assert not HistoryEntry.objects.exists()


@pytest.mark.parametrize(
    ("registration", "doubted"),
    [("ME 4127 HT", False), ("", False), ("ME 41270 HT", True)],
)
def test_a_doubtful_registration_is_told_and_the_job_taken(kind, registration, doubted):
    boat = shop.boat(shop.driveway(), registration=registration)
    book.take_job(key="j1", boat=boat, kind=kind, sheet=shop.one_part())
    told = HistoryEntry.objects.get(verb="take-job").sentence
    assert ("Check it against her papers" in told) is doubted


def test_two_part_is_refused_where_the_yard_forbids_it(kind):
    place = shop.driveway(two_part_allowed=False)
    with pytest.raises(Refused, match="allows no two-part"):
        take(kind, place, sheet=shop.one_part(key="two", kind="two-part"))


def test_a_compass_heading_needs_the_declination(kind):
    place = shop.driveway(declination_deg=None)
    boat = shop.boat(place, heading_reference="magnetic")
    with pytest.raises(Refused, match="has no declination"):
        book.take_job(key="j1", boat=boat, kind=kind, sheet=shop.one_part())


@pytest.mark.parametrize(
    ("terms", "sentence"),
    [
        ({"promise": "hard"}, "needs its day"),
        (
            {
                "promised_from": shop.NOW + timedelta(days=3),
                "promised_by": shop.NOW + timedelta(days=2),
            },
            "before it begins",
        ),
        ({"promised_by": shop.NOW + timedelta(days=2000)}, "Check the year"),
        ({"fixed_start": shop.NOW - timedelta(days=2000)}, "Check the year"),
    ],
)
def test_a_promise_that_cannot_be_kept_track_of_is_refused(kind, terms, sentence):
    with pytest.raises(Refused, match=sentence):
        take(kind, shop.driveway(), **terms)
    assert not Job.objects.exists()
