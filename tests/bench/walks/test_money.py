"""A job's money from its estimate to what is owed: price, extra, deposit, invoice as PDF and CSV, payment."""

import csv
import io
from re import compile as words

from tests.bench.walks.hand import Hand


def put_down(hand: Hand) -> None:
    """Put down an extra and a deposit."""
    hand.unfold("Put down an extra")
    hand.write("For what", "Swim ladder cleaned")
    hand.write("Costs", "85")
    hand.press("Add the extra")
    hand.see("Swim ladder cleaned", within="Put down")
    hand.unfold("Put down a payment")
    hand.choose("As", "Deposit")
    hand.write("Amount", "400")
    hand.write("How", "check")
    hand.press("Add the payment")
    hand.see(words(r"deposit by check, \$400"), within="Put down")


def invoice(hand: Hand) -> bytes:
    """Return the invoice that a link in reach leads to; the browser would open it in its own reader."""
    link = hand.page.get_by_role("link", name=words("^Invoice 2027"))
    hand.how.reach(link)
    return hand.page.context.request.get(link.get_attribute("href") or "").body()


def test_from_the_estimate_to_what_is_owed(owner: Hand) -> None:
    owner.go("Book")
    owner.go("Second Wind")
    owner.go("What it takes and costs")
    owner.unfold("Why? How minutes and product come about")
    owner.see(words(r"min"))
    owner.see(words(r"The catalogue asks \$1,520"))
    owner.go("its money")
    owner.see(words(r"Agreed\s*\$1,360"))
    owner.see("Wages", within="What it really cost so far")
    put_down(owner)
    owner.unfold("Issue the invoice")
    owner.press("Issue it")
    owner.see(words(r"Invoice 2027-\d+"), within="Put down")
    owner.see(words(r"Owed\s*\$1,045"))
    assert invoice(owner).startswith(b"%PDF-")
    owner.go("Money")
    owner.see(words(r"Owed: \$1,045"))
    owner.go("Second Wind", within=words("^Owed"))
    owner.unfold("Put down a payment")
    owner.write("Amount", "1045")
    owner.press("Add the payment")
    owner.see(words(r"Owed\s*\$0"))
    owner.go("Money")
    owner.see("Owed: $0")
    listed = owner.fetch("Take the invoices out as CSV").read_text()
    assert "1445" in listed
    assert "2027-" in listed


def test_an_invoice_is_made_void_and_issued_anew(owner: Hand) -> None:
    owner.go("Book")
    owner.go("Second Wind")
    owner.go("Its money")
    owner.unfold("Issue the invoice")
    owner.press("Issue it")
    owner.see(words(r"Invoice 2027-0*1, \$1,360"), within="Put down")
    owner.unfold("Issue the invoice")
    owner.press("Issue it")
    owner.see(words(r"Invoice 2027-0*1 stands\. Make it void before another"))
    void = words("^Make invoice 2027-0*1 void$")
    owner.write("Why it is void", "")
    owner.press(void)
    owner.write("Why it is void", "The price was another")
    owner.press(void)
    owner.see(words(r"Invoice 2027-0*1, \$1,360, void"), within="Put down")
    owner.unfold("Issue the invoice")
    owner.press("Issue it")
    owner.see(words(r"Invoice 2027-0*2, \$1,360"), within="Put down")
    owner.go("All money")
    listed = owner.fetch("Take the invoices out as CSV").read_text()
    states = [row["State"] for row in csv.DictReader(io.StringIO(listed))]
    assert states == ["void", "stands"]
    owner.go("History")
    owner.write("Words, or who", "is void")
    owner.press("Look")
    owner.see("The price was another")
