"""Beyond the week: work that comes again, six weeks of hours, a lift slot to the minute, work kept for wet weather."""

from re import compile as words

from tests.bench.walks.hand import Hand


def test_a_wash_comes_again_and_is_stopped(owner: Hand) -> None:
    owner.go("Ahead")
    owner.see("Nothing comes again.", within="Comes again")
    owner.go("Have work come again")
    owner.press("Have it come again")
    owner.see("Nothing was stored.")
    owner.choose("Boat", "Kittiwake")
    owner.choose("Work", "Maintenance wash")
    owner.write("Every, days", "14")
    owner.write("Next on", "2027-06-07")
    owner.press("Have it come again")
    owner.see("every 14 days", within="Comes again")
    owner.see("Monday 7 June", within="Comes again")
    owner.press("Stop maintenance wash for Kittiwake")
    owner.see("Nothing comes again.", within="Comes again")


def inside_work(hand: Hand) -> None:
    """Agree on work that rain does not stop and that no week holds yet."""
    hand.go("Book")
    hand.go("Take a new job")
    hand.choose("Boat in the book", "Kittiwake")
    hand.choose("Kind of job", "Interior detail")
    hand.press("Agreed: take it")
    hand.see("Kittiwake: interior detail")


def test_six_weeks_tell_hours_slots_and_what_is_kept_for_rain(owner: Hand) -> None:
    inside_work(owner)
    owner.go("Ahead")
    for week in ("24 May", "31 May", "7 June", "14 June", "21 June", "28 June"):
        owner.see(week)
    for head in ("Posted", "Promised, not posted", "Spray slots"):
        owner.see(words(head.partition(",")[0]))
    kept = words("Kept for wet weather")
    owner.see(words(r"\d\s?h"), within=kept)
    owner.go(words("^Kittiwake: Clear out"), within=kept)
    owner.see("Kittiwake")


def test_a_lift_slot_is_entered_to_the_minute(owner: Hand) -> None:
    owner.go("Ahead")
    owner.see("Thursday 27 May, 09:45", within="Fixed appointments")
    owner.go("Rosalind's Oath", within="Fixed appointments")
    owner.write("Fixed appointment", "2027-06-03T09:50")
    owner.press("Save the job")
    owner.see("A fixed appointment is moved above, on the job's page")
    part = words("^Appointment")
    owner.write(words("^New day and time"), "2027-06-03T09:50", within=part)
    owner.write(words("^Reason"), "The yard's lift is a week later", within=part)
    owner.press("Move the appointment", within=part)
    owner.see(words("the appointment of .*27 May.* is .*3 Jun.* now"))
    owner.go("Ahead")
    owner.see("Thursday 3 June, 09:50", within="Fixed appointments")
