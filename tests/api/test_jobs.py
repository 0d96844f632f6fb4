"""The book over the machines' door: boats, jobs, and why each stage waits."""

import json
from datetime import datetime

import pytest

from dispatch.actions import access, sweeping
from dispatch.records.models import HistoryEntry, Job, Judged
from tests.actions import shop

pytestmark = [pytest.mark.django_db, pytest.mark.services]
COAT = {"key": "j2", "boat": "second-wind", "kind": "spray-coat", "sheet": "one"}


@pytest.fixture
def boat(yard):
    shop.one_part()
    return shop.boat(yard)


def take(client, **changes):
    return client.post("/api/jobs/", COAT | changes, format="json")


def test_boats_are_listed_with_how_they_lie_and_their_jobs(owner, wash):
    (boat,) = owner.get("/api/boats/").json()
    assert (boat["key"], boat["place"], boat["heading_deg"]) == (
        "second-wind",
        "s5",
        85,
    )
    assert boat["jobs"] == ["j1"]


def test_a_job_is_taken_into_the_book_with_its_stages(owner, orla, boat):
    answer = take(owner, grade=3, repairs={"M": 1}, price_cents=180000)
    assert (answer.status_code, answer["Location"]) == (201, "/api/jobs/j2/")
    told = answer.json()
    assert [stage["key"] for stage in told["stages"]][:2] == ["prep", "mask"]
    assert told["stages"][1]["after"][0]["stage"] == "prep"
    job = Job.objects.get()
    assert (job.grade, job.repairs, job.price_cents) == (3, {"M": 1}, 180000)
    assert access.job_of_link(told["customer_word"]) == job
    assert HistoryEntry.objects.get(verb="take-job").by == orla


@pytest.mark.parametrize(
    ("changes", "field"),
    [
        ({"boat": "nobodys"}, "boat"),
        ({"grade": 5}, "grade"),
        ({"key": "j 2"}, "key"),
        ({"repairs": {"M": -1}}, "repairs.M"),
        ({"promised_by": "soon"}, "promised_by"),
    ],
)
def test_a_wrong_field_is_400_and_named(owner, boat, changes, field):
    answer = take(owner, **changes)
    assert answer.status_code == 400
    assert [fault["field"] for fault in answer.json()["errors"]] == [field]
    assert not Job.objects.exists()


@pytest.mark.parametrize("field", ["note", "boat", "promise", "key"])
@pytest.mark.parametrize("text", ["\ud800", "\x00"])
def test_text_that_no_table_can_hold_is_400(owner, boat, field, text):
    """Half a surrogate pair and NUL are JSON (RFC 8259 section 8.2), but no text of a database."""
    body = json.dumps(COAT | {field: text})
    answer = owner.post("/api/jobs/", body, content_type="application/json")
    assert answer.status_code == 400
    assert {fault["field"] for fault in answer.json()["errors"]} == {field}


@pytest.mark.parametrize(
    ("changes", "sentence"),
    [
        ({"sheet": None}, "needs a product"),
        ({"promise": "hard"}, "needs its day"),
    ],
)
def test_a_job_that_cannot_be_done_is_422_with_the_sentence(
    owner, boat, changes, sentence
):
    answer = take(owner, **changes)
    assert answer.status_code == 422
    assert sentence in answer.json()["detail"]
    assert not Job.objects.exists()


def test_a_key_is_taken_once(owner, wash):
    answer = take(owner, key="j1", kind="wash", sheet=None)
    assert (answer.status_code, Job.objects.count()) == (422, 1)


def test_jobs_are_listed_by_state(owner, wash):
    assert [job["key"] for job in owner.get("/api/jobs/?state=agreed").json()] == ["j1"]
    assert owner.get("/api/jobs/?state=handed-back").json() == []
    assert owner.get("/api/jobs/?state=lost").status_code == 400


def test_a_judged_job_tells_windows_and_vetoes_with_numbers(owner, sky, wash):
    sweeping.sweep()
    (stage,) = owner.get("/api/jobs/j1/").json()["stages"]
    assert stage["sky"] == "known"
    assert stage["windows"]
    first = stage["windows"][0]
    opens, closes = (datetime.fromisoformat(first[name]) for name in ("start", "end"))
    assert opens < closes
    rain = [veto for veto in stage["vetoes"] if veto["code"] == "rain"]
    assert rain
    assert rain[0]["numbers"]
    assert not any(
        opens < datetime.fromisoformat(veto["end"])
        and datetime.fromisoformat(veto["start"]) < closes
        for veto in stage["vetoes"]
        if veto["edge"] == "during"
    )


def test_what_nobody_judged_is_unknown_and_has_no_window(owner, sky, wash):
    sweeping.sweep()
    Judged.objects.update(fault="The plugin fell over.")
    (stage,) = owner.get("/api/jobs/j1/").json()["stages"]
    assert (stage["sky"], stage["windows"]) == ("unknown", [])
    assert stage["sky_fault"] == "The plugin fell over."


def test_an_unknown_job_is_404(owner, yard):
    assert owner.get("/api/jobs/j9/").status_code == 404
