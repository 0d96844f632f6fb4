"""Those who work, what they drive, what is in store, and what their week comes to."""

from re import compile as words

from tests.bench.walks.hand import Hand
from tests.bench.walks.week import part

NAME = words("^Name$")


def test_a_person_is_added_sent_away_and_taught(owner: Hand) -> None:
    owner.go("Crew", within="Pages")
    owner.go("Add somebody")
    owner.write(NAME, "Isolde Varney")
    owner.write("Initials", "IV")
    owner.choose("Drives the vans")
    owner.choose("Polish", "2, well able")
    owner.press("Add them")
    owner.unfold("Enter days away")
    owner.write(words("^From$"), "2027-05-27", within="Away")
    owner.write("To, that day too", "2027-05-28", within="Away")
    owner.write("Why", "A wedding", within="Away")
    owner.press("Store it")
    owner.see("Friday 28 May", within="Away")
    owner.press("There after all on Friday 28 May", within="Away")
    owner.miss("Friday 28 May", within="Away")
    owner.choose("Mask", "1, able")
    owner.press("Save the person")
    owner.see("“Mask” now 1, able")
    owner.write("New password", "grey-harbour-9")
    owner.press("Give a sign-in")
    owner.see("Isolde Varney signs in as")


def test_wheels_are_added_moved_and_kept_off_the_road(owner: Hand) -> None:
    owner.go("Crew", within="Pages")
    owner.go("Wheels")
    owner.go("Add a van")
    owner.write(NAME, "Sanderling")
    owner.write("May tow", "3500")
    owner.write("Always aboard", "Hand tools, Little Gun")
    owner.press("Add the van")
    owner.see("hand tools, little gun")
    owner.go("Sanderling")
    owner.unfold("Enter days off the road")
    owner.write("From", "2027-05-27", within="Off the road")
    owner.press("Store it")
    owner.see("Thursday 27 May", within="Off the road")
    owner.go("All wheels")
    owner.go("The Shed")
    owner.choose("Stands at", "Tamarack Dry Stack")
    owner.press("Save it")
    owner.see("Tamarack Dry Stack")
    owner.go("All wheels")
    owner.see(words(r"The Shed[\s\S]*Tamarack Dry Stack, since"))


def test_cans_are_counted_and_a_product_is_added(owner: Hand) -> None:
    owner.go("Crew", within="Pages")
    owner.go("Stores")
    owner.see("Lanternglass One", within="Short")
    owner.go("Put cans of Lanternglass One in store")
    owner.write("Cans", "2")
    owner.write("In each", "32")
    owner.press(words("Put"))
    owner.miss("short from")
    owner.go("1 can", within="Thriftsheen Seal")
    owner.write("Why", "It froze")
    owner.press("Take them out of the store")
    owner.see("None in store.", within="Thriftsheen Seal")
    owner.go("Thriftsheen Seal", within="Thriftsheen Seal")
    owner.write("Air, at most", "40")
    owner.press("Save the product")
    owner.see("The most lies below the least.")
    owner.write("Air, at most", "80")
    owner.write("Reason optional", "The maker's new sheet")
    owner.press("Save the product")
    part(owner, "Latest changes")
    owner.see("The maker's new sheet")


def test_hours_and_minutes_are_read(owner: Hand) -> None:
    owner.go("Crew", within="Pages")
    owner.go("Hours and pay")
    owner.go(words("Week after"))
    owner.see("Maeve Tolliver")
    kept = owner.fetch("Take the hours out as CSV").read_text(encoding="utf-8-sig")
    assert "Maeve Tolliver" in kept
    owner.go("Planned and real")
    owner.see(words("No visit|minutes"))
