"""The crew's own day over the machines' door, and nobody else's."""

from datetime import datetime

import pytest

from dispatch.records.models import Account, Person, Stage
from tests.actions import posted
from tests.api.conftest import signed_in

pytestmark = pytest.mark.django_db
DAY = {"day": str(posted.MONDAY)}


@pytest.fixture
def day(db):
    job = posted.sprayed()
    posted.warm(job.boat.place)
    made = posted.van_day(
        posted.person("rook", "hose", "prep"), posted.person("teague", "spray-1")
    )
    for key, start in (("prep", "07:30"), ("mask", "10:00"), ("port", "11:30")):
        posted.visit(made, Stage.objects.get(key=key), start)
    posted.stand("06:50")
    return made


def of(name):
    return signed_in(Account.objects.get(username=name))


def test_a_crew_member_reads_the_day_in_order_with_load_and_cautions(day):
    told = of("rook").get("/api/route/", DAY).json()
    route = told["route"]
    assert (route["van"], route["team"]) == ("Knot", ["Rook", "Teague"])
    assert [stop["visit"]["stage_name"] for stop in route["stops"]] == [
        stage.name for stage in Stage.objects.filter(key__in=("prep", "mask", "port"))
    ]
    first = route["stops"][0]
    assert datetime.fromisoformat(first["start"]) == posted.at("07:30")
    assert first["tow"] is None
    assert route["load"]
    assert route["cautions"]


def test_a_stage_nobody_judged_is_never_go(day):
    route = of("rook").get("/api/route/", DAY).json()["route"]
    assert {stop["visit"]["ready"]["word"] for stop in route["stops"]} <= {"WAIT", "NO"}


def test_without_a_day_it_is_today_by_the_outfits_clock(day):
    assert of("teague").get("/api/route/").json()["day"] == str(posted.MONDAY)


def test_who_rides_nowhere_has_no_route_and_sees_nobody_elses(day):
    posted.person("wren")
    told = of("wren").get("/api/route/", DAY).json()
    assert told == {**DAY, "next_day": None, "route": None}


def test_an_owner_who_is_no_person_of_the_crew_has_no_route(owner, day):
    assert owner.get("/api/route/").status_code == 403


def test_someone_who_left_has_no_route(day):
    client = of("rook")
    Person.objects.filter(key="rook").update(active=False)
    assert client.get("/api/route/", DAY).status_code == 403


def test_a_day_that_is_none_is_400(day):
    assert of("rook").get("/api/route/", {"day": "Monday"}).status_code == 400
