"""Money: extras, payments, cost, what is owed, invoices with their numbers, as PDF and CSV; worked by hand."""

import csv
import io
from datetime import date

import pytest

from dispatch.actions import invoices, money
from dispatch.actions.errors import Refused
from dispatch.records.models import (
    Extra,
    HistoryEntry,
    Invoice,
    Job,
    Outfit,
    Payment,
    Person,
)
from tests.web import people
from tests.web.owner.test_pay import days, job, report

__all__ = ["days", "job"]
pytestmark = [pytest.mark.django_db, pytest.mark.timeout(120)]
EXTRA = {"words": "Second repair", "cents": "60", "on": "2027-05-24"}
DEPOSIT = {"kind": "deposit", "cents": "500.50", "on": "2027-05-20", "how": "check"}
ISSUE = {"tax_pct": "5.5", "due_days": "14"}


@pytest.fixture
def orla(client, job):
    Job.objects.update(price_cents=136_000)
    account = people.owner()
    client.force_login(account)
    return account


def put(client, what: str, sent: dict[str, str]):
    return client.post(f"/jobs/j1/money/{what}/", sent, follow=True)


@pytest.mark.parametrize("page", ["/money/", "/money/invoices/out/", "/jobs/j1/money/"])
def test_strangers_and_crew_are_refused_and_the_owner_is_not(client, job, page):
    assert client.get(page).status_code == 302
    client.force_login(people.crew())
    assert client.get(page).status_code == 403
    client.force_login(people.owner())
    assert client.get(page).status_code == 200


def test_price_extras_and_payments_add_up(client, orla, job):
    put(client, "extra", EXTRA)
    put(client, "extra", EXTRA | {"words": "Friend of the house", "cents": "-20"})
    put(client, "payment", DEPOSIT)
    job.refresh_from_db()
    ledger = money.ledger(job)
    # 1,360 + 60 - 20 = 1,400; 500.50 came in: 899.50 to come.
    assert (ledger.total, ledger.paid, ledger.owed) == (140_000, 50_050, 89_950)
    assert "899.50" in client.get("/jobs/j1/money/").text


def test_more_than_came_in_is_not_paid_back(client, orla, job):
    put(client, "payment", DEPOSIT)
    answer = put(client, "payment", DEPOSIT | {"kind": "back", "cents": "600"})
    assert "Only $500.50 came in" in answer.text
    put(client, "payment", DEPOSIT | {"kind": "back", "cents": "500.5"})
    assert money.paid(job) == 0


@pytest.mark.parametrize(
    ("what", "sent", "said"),
    [
        ("extra", EXTRA | {"cents": "0"}, "costs something"),
        ("extra", EXTRA | {"cents": "1.005"}, "whole cent"),
        (
            "payment",
            DEPOSIT | {"cents": "-5"},
            "Give a number from $0.01 to $1,000,000.",
        ),
        ("payment", DEPOSIT | {"on": "soon"}, "Give a day as"),
        ("invoice", ISSUE | {"tax_pct": "90"}, "Give a number from 0 to 40 %"),
    ],
)
def test_what_will_not_do_is_said_and_nothing_is_put_down(
    client, orla, what, sent, said
):
    answer = put(client, what, sent)
    assert answer.status_code == 422
    assert said in answer.text
    assert not Extra.objects.exists()
    assert not Payment.objects.exists()
    assert not Invoice.objects.exists()


def test_what_was_put_down_wrongly_goes_with_its_reason_alone(client, orla):
    put(client, "payment", DEPOSIT)
    address = f"/jobs/j1/money/payment/{Payment.objects.get().pk}/out/"
    assert "Say why" in client.post(address, {"why": " "}, follow=True).text
    assert Payment.objects.exists()
    client.post(address, {"why": "Check bounced"})
    assert not Payment.objects.exists()
    assert HistoryEntry.objects.get(verb="remove-money").why == "Check bounced"


def test_real_cost_is_clock_times_the_teams_wages_and_measured_product(days, job):
    stage = job.stages.filter(product_ml__gt=0).first()
    job.sheet.__class__.objects.update(pack_cents=4600, pack_ml=946)
    report(days[0], stage, "08:00", "10:00")
    stage.laid.create(coat=0, ended_at=days[0].back, used_ml=473)
    found = money.cost(job)
    # Two hours of $40 and $30 an hour; half a can of $46.
    assert (found.wages, found.product) == (14_000, 2_300)
    assert (found.untimed, found.unmeasured) == ((), ())
    stage.laid.all().delete()
    assert money.cost(job).unmeasured == (stage.name,)


def test_product_whose_price_nobody_entered_costs_no_nought(client, orla, days, job):
    stage = job.stages.filter(product_ml__gt=0).first()
    job.sheet.__class__.objects.update(pack_cents=0)
    report(days[0], stage, "08:00", "10:00")
    stage.laid.create(coat=0, ended_at=days[0].back, used_ml=473)
    assert money.cost(job).uncounted == (stage.name,)
    assert "Product not counted" in client.get("/jobs/j1/money/").text


def test_a_stage_without_times_costs_as_planned_and_is_named(days, job):
    stage = job.stages.first()
    job.stages.filter(pk=stage.pk).update(state="done", ended_at=days[0].back)
    found = money.cost(job)
    assert found.untimed == (stage.name,)
    assert found.wages > 0
    assert Person.objects.exists()


def test_numbers_count_without_gap_or_double_and_a_void_one_stays_used(
    client, orla, job
):
    put(client, "invoice", ISSUE)
    assert "stands. Make it void" in put(client, "invoice", ISSUE).text
    first = Invoice.objects.get()
    invoices.void(first, by=orla, why="Wrong boat")
    put(client, "invoice", ISSUE)
    assert [str(one) for one in Invoice.objects.all()] == ["2027-0002", "2027-0001"]
    Outfit.objects.update(stands_at="2028-01-02T12:00:00-05:00")
    invoices.void(Invoice.objects.get(number=2), by=orla, why="Again")
    put(client, "invoice", ISSUE)
    assert str(Invoice.objects.first()) == "2028-0001"
    with pytest.raises(Refused):
        invoices.void(first, by=orla, why="Twice")


def test_invoices_are_listed_fifty_a_page(client, orla, job):
    put(client, "invoice", ISSUE)
    first = Invoice.objects.values().get()
    Invoice.objects.bulk_create(
        Invoice(**(first | {"id": None, "number": number, "void": True}))
        for number in range(2, 52)
    )
    page = client.get("/money/").text
    assert "2027-0051" in page
    assert "2027-0001" not in page
    assert "Page 1 of 2" in page
    assert "2027-0001" in client.get("/money/", {"page": "2"}).text


def test_tax_is_on_price_and_extras_and_the_invoice_keeps_what_stood(client, orla, job):
    put(client, "extra", EXTRA)
    put(client, "payment", DEPOSIT)
    put(client, "invoice", ISSUE)
    one = Invoice.objects.get()
    # 5.5 % of 1,420.00 is 78.10.
    assert (one.tax_cents, one.total_cents, one.paid_cents) == (7_810, 149_810, 50_050)
    assert (one.issued_on.isoformat(), one.due_on.isoformat()) == (
        "2027-05-23",
        "2027-06-06",
    )
    Job.objects.update(price_cents=1)
    one.refresh_from_db()
    assert one.lines[0]["cents"] == 136_000


def test_an_invoice_as_pdf_opens_with_its_fonts_and_its_title(client, orla, job):
    """ISO 32000-1, 7.5: a PDF begins with %PDF- and ends with %%EOF; fonts lie in FontFile2 streams."""
    job.boat.customer.__class__.objects.update(name="Łukasz & <b>Sons</b>")
    put(client, "invoice", ISSUE)
    answer = client.get("/money/invoices/2027-0001.pdf")
    pdf = answer.content
    assert answer["Content-Type"] == "application/pdf"
    assert pdf.startswith(b"%PDF-")
    assert pdf.rstrip().endswith(b"%%EOF")
    assert b"/FontFile2" in pdf
    assert client.get("/money/invoices/2027-0009.pdf").status_code == 404
    assert client.get("/money/invoices/nonsense.pdf").status_code == 404
    client.force_login(people.crew())
    assert client.get("/money/invoices/2027-0001.pdf").status_code == 403


def test_the_invoices_as_csv(client, orla, job):
    job.boat.customer.__class__.objects.update(name="=Ames")
    put(client, "invoice", ISSUE)
    text = client.get("/money/invoices/out/").content.decode()
    (row,) = csv.DictReader(io.StringIO(text))
    assert row["Customer"] == "'=Ames"
    assert (row["Net"], row["Tax"], row["Total"]) == ("1360.00", "74.80", "1434.80")


def test_an_invoice_says_whose_it_is_how_to_pay_and_what_came_in(client, orla, job):
    assert "do not say your postal address" in client.get("/jobs/j1/money/").text
    particulars = {
        "name": "Tarrow & Daughter",
        "time_zone": "America/New_York",
        "units": "us",
        "address": "12 Ropewalk Lane\r\nPell Harbor",
        "tax_number": "T 12",
        "pay_how": "By check to Tarrow & Daughter",
        "phone": "+12075550100",
    }
    client.post("/settings/outfit/", particulars)
    job.boat.customer.__class__.objects.update(address="1 Marrow Road")
    put(client, "payment", DEPOSIT)
    put(client, "invoice", ISSUE)
    # Another address and payment later change nothing on it.
    client.post("/settings/outfit/", particulars | {"address": "Moved"})
    put(client, "payment", DEPOSIT)
    one = Invoice.objects.get()
    assert one.outfit_lines == [
        "12 Ropewalk Lane",
        "Pell Harbor",
        "+1 207 555 0100",
        "Tax number T 12",
    ]
    assert one.payments == [
        {"words": "Deposit by check, May 20, 2027", "cents": 50_050}
    ]
    text = client.get("/money/invoices/out/").content.decode()
    (row,) = csv.DictReader(io.StringIO(text, newline=""))
    assert row["From address"] == (
        "12 Ropewalk Lane\nPell Harbor\n+1 207 555 0100\nTax number T 12"
    )
    assert row["How to pay"] == "By check to Tarrow & Daughter"
    assert row["Customer address"] == "1 Marrow Road"
    assert (row["Paid before"], row["To pay"]) == ("500.50", "934.30")


def test_what_is_owed_is_of_jobs_handed_back_or_invoiced(client, orla, job):
    assert money.owed() == ()
    put(client, "invoice", ISSUE)
    assert [one.owed for one in money.owed()] == [143_480]
    put(client, "payment", DEPOSIT | {"cents": "1434.80", "kind": "payment"})
    assert money.owed() == ()
    assert "Nothing is owed" in client.get("/money/").text


def test_a_job_called_off_owes_no_price_and_its_deposit_is_to_be_paid_back(
    client, orla, job
):
    put(client, "payment", DEPOSIT | {"cents": "500"})
    Job.objects.update(state="called-off")
    (one,) = money.owed()
    assert (one.agreed, one.fell_away, one.owed, one.back) == (
        0,
        136_000,
        -50_000,
        50_000,
    )
    told = client.get("/money/").text
    assert "Owed: $0; to pay back: $500" in told
    assert "$500 to pay back" in told
    own = client.get("/jobs/j1/money/").text
    assert "The price of $1,360 does not count" in own
    assert "860" not in own
    put(client, "payment", DEPOSIT | {"kind": "back", "cents": "500"})
    assert money.owed() == ()


def test_what_is_to_be_paid_back_takes_nothing_off_what_is_owed(client, orla, job):
    put(client, "payment", DEPOSIT | {"cents": "500"})
    put(client, "invoice", ISSUE | {"tax_pct": "0"})
    other = Job.objects.create(
        key="j2",
        boat=job.boat,
        kind=job.kind,
        taken_at=job.taken_at,
        state="called-off",
        price_cents=90_000,
    )
    other.payments.create(kind="deposit", cents=20_000, on="2027-05-20")
    assert "Owed: $860; to pay back: $200" in client.get("/money/").text


def test_an_invoice_that_stands_is_owed_though_the_job_was_called_off(
    client, orla, job
):
    put(client, "invoice", ISSUE)
    Job.objects.update(state="called-off")
    assert [one.owed for one in money.owed()] == [143_480]
    invoices.void(Invoice.objects.get(), by=orla, why="Called off")
    assert money.owed() == ()


def test_statements_do_not_grow_with_jobs_that_are_owed(
    client, orla, job, django_assert_num_queries
):
    Job.objects.update(state="handed-back")
    with django_assert_num_queries(4):
        assert len(money.owed()) == 1
    for number in range(2, 9):
        Job.objects.create(
            key=f"j{number}",
            boat=job.boat,
            kind=job.kind,
            taken_at=job.taken_at,
            state="handed-back",
            price_cents=90_000,
        )
    with django_assert_num_queries(4):
        assert len(money.owed()) == 8


def test_a_day_on_an_invoice_has_no_nought_before_it():
    assert invoices.dated(date(2027, 6, 6)) == "June 6, 2027"
