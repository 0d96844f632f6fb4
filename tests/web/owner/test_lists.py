"""Lists out and in: RFC 4180, tried first, faults by row and column, all or nothing, nothing a spreadsheet would run."""

import csv
import io

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile

from dispatch.actions import lists
from dispatch.actions.tables import TABLES
from dispatch.records.models import Boat, Customer, HistoryEntry, Job, Place
from tests.web import people
from tests.web.owner.test_crew_pages import house, wanting

__all__ = ["house", "wanting"]
pytestmark = [pytest.mark.django_db, pytest.mark.timeout(120)]


@pytest.fixture
def orla(client, wanting):
    account = people.owner()
    client.force_login(account)
    return account


def out(client, key: str) -> list[dict[str, str]]:
    text = client.get(f"/lists/{key}/out/").content.decode()
    return list(csv.DictReader(io.StringIO(text)))


def sheet(rows: list[dict[str, str]]) -> str:
    text = io.StringIO()
    writer = csv.DictWriter(text, fieldnames=rows[0].keys())
    writer.writeheader()
    writer.writerows(rows)
    return text.getvalue()


def send(client, key: str, text: str):
    return client.post(
        f"/lists/{key}/", {"list": SimpleUploadedFile("a.csv", text.encode())}
    )


def store(client, key: str, text: str):
    return client.post(f"/lists/{key}/", {"text": text, "store": "yes"}, follow=True)


@pytest.mark.parametrize("key", TABLES)
def test_lists_are_the_owners_alone(client, wanting, key):
    assert client.get(f"/lists/{key}/out/").status_code == 302
    client.force_login(people.crew())
    assert client.get(f"/lists/{key}/out/").status_code == 403
    assert client.get(f"/lists/{key}/").status_code == 403


@pytest.mark.parametrize("key", TABLES)
def test_a_list_taken_out_and_brought_in_again_changes_nothing(client, orla, key):
    Place.objects.filter(key="s5").update(
        latitude=44.1234567, rules='Ask, first\nthen "go"'
    )
    Boat.objects.update(length_m=6.1)
    text = client.get(f"/lists/{key}/out/").content.decode()
    told = lists.tried(TABLES[key], text, by=orla)
    assert told
    assert {one.does for one in told} == {"same"}, told
    store(client, key, text)
    assert not HistoryEntry.objects.filter(verb__in=("bring-in", "set-place")).exists()


def test_a_list_has_a_head_and_crlf(client, orla):
    """RFC 4180, section 2: records end in CRLF, quotes are doubled, the head is optional and present here."""
    Customer.objects.update(name='Ames, "Jo"')
    text = client.get("/lists/customers/out/").content.decode()
    assert text.startswith("Number,Name,Phone,")
    assert text.endswith("\r\n")
    assert '"Ames, ""Jo"""' in text


@pytest.mark.parametrize("name", ["=1+1", "+1", "-2", "@SUM(A1)", "\t=1"])
def test_no_cell_runs_as_a_formula_and_the_guard_comes_off_again(client, orla, name):
    """OWASP, CSV injection: a cell that begins with = + - @ tab or CR is written behind an apostrophe."""
    Customer.objects.update(name=name)
    row = out(client, "customers")[0]
    assert row["Name"] == f"'{name}"
    told = lists.tried(TABLES["customers"], sheet([row]), by=orla)
    assert told[0].does == "same"


def test_a_trial_shows_what_changes_and_stores_nothing(client, orla):
    rows = out(client, "customers")
    rows[0] |= {"Phone": "+1 207 555 0199"}
    rows.append(
        dict.fromkeys(rows[0], "") | {"Name": "Okafor", "Time zone": "America/New_York"}
    )
    answer = send(client, "customers", "\ufeff" + sheet(rows))
    assert "1 new, 1 changed, 0 as they are, 0 wrong" in answer.text
    assert "“Phone” now +1 207 555 0199 (was not set)" in answer.text
    assert Customer.objects.count() == 1
    assert not HistoryEntry.objects.filter(verb="add-customer").exists()
    kept = answer.context["text"]
    told = store(client, "customers", kept)
    assert "2 rows new or changed" in told.text
    assert Customer.objects.get(name="Okafor").phone == ""
    assert Customer.objects.get(name="Ames").phone == "+12075550199"


def test_one_wrong_row_is_named_by_row_and_column_and_nothing_comes_in(client, orla):
    rows = out(client, "boats")
    rows[0] |= {"Berth": "row 4"}
    rows.append(rows[0] | {"Key": "", "Name": "Curlew", "Length, ft": "long"})
    rows.append(rows[0] | {"Key": "no-such-boat"})
    answer = send(client, "boats", sheet(rows))
    assert answer.status_code == 422
    assert "Row 3" in answer.text
    assert "Length, ft: Give a number from" in answer.text
    assert "there is no no-such-boat" in answer.text
    refused = store(client, "boats", sheet(rows))
    assert "Nothing was brought in: row 3 is wrong" in refused.text
    assert list(Boat.objects.values_list("name", "berth")) == [("Second Wind", "")]


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("", "Choose a file first"),
        ("Name\r\nAmes\r\n", "The first row should name the columns"),
        ("Number,Name,Colour\r\n", "Column Colour is not known"),
        ('Number,Name\r\n1,"open\r\n', "That is no CSV"),
        ("Number,Name\r\n,Ames,more\r\n", "more cells than there are columns"),
        ("Number,Phone\r\n,+12075550101\r\n", "A new row needs Name"),
        ("Number,Name\r\n,Bright\r\n,Bright\r\n", "The same new row stands twice."),
        ("Number;Name\r\n;Ames;more\r\n", "more cells than there are columns"),
    ],
)
def test_what_is_no_list_is_refused_in_a_sentence(client, orla, text, said):
    answer = client.post("/lists/customers/", {"text": text})
    assert answer.status_code == 422
    assert said in answer.text


@pytest.mark.parametrize("parts", [";", "\t"])
def test_a_spreadsheet_that_writes_a_decimal_comma_is_read_as_it_means(
    client, orla, parts
):
    """As spreadsheets save where the comma is the point: a mark in front, no commas between."""
    rows = out(client, "boats")
    rows[0]["Length, ft"] = "20,5"
    text = "\ufeff" + "\r\n".join(
        parts.join(line) for line in (list(rows[0]), list(rows[0].values()))
    )
    assert "0 new, 1 changed" in send(client, "boats", text).text
    store(client, "boats", text.removeprefix("\ufeff"))
    assert Boat.objects.get().length_m == pytest.approx(20.5 * 0.3048)


def test_a_job_is_taken_and_moved_by_a_list(client, orla):
    rows = out(client, "jobs")
    rows[0] |= {"State": "put-off", "Note": "Engine first"}
    rows.append(
        dict.fromkeys(rows[0], "")
        | {"Boat": "Second Wind", "Kind of job": "wash", "State": "asked", "Condition": "1"}
        | {name: "0" for name in rows[0] if name.startswith(("Repairs", "Panels"))}
        | {"Promise": "none", "An hour late costs, $": "3"}
    )  # fmt: skip
    answer = send(client, "jobs", sheet(rows))
    assert "1 new, 1 changed" in answer.text, answer.context["rows"]
    store(client, "jobs", sheet(rows))
    assert dict(Job.objects.values_list("key", "state")) == {
        "j1": "put-off",
        "j2": "asked",
    }
    assert Job.objects.get(key="j1").note == "Engine first"


def test_who_is_called_the_same_must_be_told_by_number(client, orla):
    Customer.objects.create(name="Ames", time_zone="America/New_York")
    rows = out(client, "boats")
    rows[0] |= {"Customer": "Ames"}
    assert "2 are called Ames" in send(client, "boats", sheet(rows)).text


def test_a_person_with_skills_comes_in_whole(client, orla):
    rows = out(client, "people")
    new = rows[0] | {"Key": "", "Name": "Dov Halloran", "Initials": "DH", "Prep": "2"}
    store(client, "people", sheet([*rows, new]))
    told = out(client, "people")
    assert [row["Prep"] for row in told if row["Name"] == "Dov Halloran"] == ["2"]
