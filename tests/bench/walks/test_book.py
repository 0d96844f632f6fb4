"""The book: jobs looked for, changed, put off and closed; customers and boats, each with what was done."""

from re import compile as words

from tests.bench.walks.hand import Hand
from tests.bench.walks.week import part

NAME = words("^Name$")


def look(hand: Hand, field: str, for_what: str) -> None:
    hand.write(field, for_what)
    hand.press("Look")


def test_jobs_are_looked_for_changed_put_off_and_closed(owner: Hand) -> None:
    owner.go("Book")
    look(owner, "Boat, customer, place or kind", "nobody of that name")
    owner.see("Nothing fits. Look for less.")
    look(owner, "Boat, customer, place or kind", "hale")
    owner.see("1 job.")
    owner.go("Nightjar")
    owner.write("Agreed price", "many")
    owner.press("Save the job")
    owner.see("Nothing was stored. 1 field needs another look.")
    owner.write("Fixed appointment", "2027-05-27T10:00")
    owner.write("Agreed price", "1512.50")
    owner.press("Save the job")
    owner.see("Full spray coat has no visit that is held to a minute.")
    owner.choose(words("^Promise$"), "A hard date")
    owner.write("Promised by", "2027-06-02T17:00")
    owner.write("Fixed appointment", "")
    owner.write("Reason optional", "Her engine comes out first")
    owner.press("Save the job")
    owner.see("$1,512.50")
    part(owner, "Latest changes")
    owner.see("Her engine comes out first")
    closed(owner)


def closed(owner: Hand) -> None:
    """Put a job off, look for it among those, and call it off."""
    owner.write("Reason needed", "The hoist is broken")
    owner.press("Put off, lay her up")
    owner.see("put off now")
    owner.go("All jobs")
    owner.choose("State", "Put off")
    owner.press("Look")
    owner.see("1 job.")
    owner.go("Nightjar")
    owner.write("Reason needed", "She goes to another yard")
    owner.press("Called off, gone")
    owner.see("Called off")
    part(owner, "Latest changes")
    owner.see("The hoist is broken")


def test_a_customer_and_a_boat_are_added_and_read(owner: Hand) -> None:
    owner.go("Book")
    owner.go("Customers")
    owner.go("Add a customer")
    owner.press("Add the customer")
    owner.see("Fill this in.")
    owner.write(NAME, "Delphine Marrack")
    owner.write("Phone", "+1 207 555 0188")
    owner.choose("Agreed to texts")
    owner.press("Add the customer")
    owner.see("Delphine Marrack")
    owner.go("All customers")
    look(owner, "Name, phone, e-mail or boat", "marrack")
    owner.go("Delphine Marrack")
    owner.go("Add a boat")
    owner.write(NAME, "Half Tide")
    owner.write("Length, ft", "19")
    owner.choose("Place", "Driveway, Marrow Road")
    owner.press("Add the boat")
    owner.see("Half Tide")
    owner.go("Book")
    owner.go("Boats")
    look(owner, "Name, make, number, customer or place", "half")
    owner.go("Half Tide")
    owner.write("Heading of her bow", "355")
    owner.press("Save the boat")
    owner.see("355")
    owner.go("Her history")
    owner.see(words(r"Half Tide"))
    owner.see("355")
