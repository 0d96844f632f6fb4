"""Places and their sky, rates and limits, plugins, messages, and what the history keeps of each change."""

from re import compile as words

from tests.bench.walks.hand import Hand
from tests.bench.walks.week import part


def test_a_place_is_changed_and_its_sky_entered_by_hand(owner: Hand) -> None:
    owner.go("Places")
    owner.go("Driveway, Marrow Road")
    owner.write("At the gate", "Ring twice")
    owner.press("Save the place")
    owner.see("Ring twice")
    owner.go("Its sky: the next hours, and entering one by hand")
    owner.press("Enter the sky")
    owner.see("Nothing was stored.")
    sky = {"Wind, mph": "5", "Gusts": "8", "Wind from": "180", "Air in the shade": "60"}
    sky |= {"Dew point": "45", "Cloud": "30", "Rain, inches": "0", "Chance": "0"}
    for field, value in sky.items():
        owner.write(field, value)
    owner.press("Enter the sky")
    owner.see(words("entered by hand|by hand"))
    owner.press("Take it back")
    owner.see("The forecast stands again.")


def test_a_rate_is_changed_for_a_reason_which_the_history_keeps(owner: Hand) -> None:
    owner.go("Settings")
    part(owner, "Product and water")
    owner.go(words("Change\\s+Orders"))
    owner.write("The supplier, on working days only, takes", "many")
    owner.press("Save the changes")
    owner.see("Nothing was")
    owner.write("The supplier, on working days only, takes", "3")
    owner.write("Reason", "They close on Fridays")
    owner.press("Save the changes")
    part(owner, "Latest changes")
    owner.see("They close on Fridays")
    owner.go("All settings")
    owner.go("stage catalogue")
    owner.go("Maintenance wash")
    owner.go("Settings", within="Pages")
    part(owner, "The outfit")
    owner.go("Change the outfit")
    owner.write("Tax number", "12-3456789")
    owner.press("Save the outfit")
    owner.go("History")
    owner.write("Words, or who", "fridays")
    owner.press("Look")
    owner.see(words(r"Orla Tarrow|orla"))
    owner.see("They close on Fridays")
    owner.see(words(r"now 3 days \(was 2 days\)"))


def test_a_plugin_is_refused_turned_on_and_off(owner: Hand) -> None:
    owner.go("Plugins")
    owner.go("Notify email")
    owner.write("Host", "mail.pell.test")
    owner.write(words("^Sender$"), "crew")
    owner.press("Turn it on")
    owner.see("is no e-mail address")
    owner.write(words("^Sender$"), "crew@pell.test")
    owner.press("Turn it on")
    owner.see("Notify email is on with the options you see.")
    owner.press("Turn it off")
    owner.see("Notify email is off. Its options are kept.")


def test_a_plugin_that_fails_rests_and_is_asked_again(owner: Hand) -> None:
    owner.go("Plugins")
    owner.go("Weather columnar")
    owner.write("Address", "https://weather.invalid/hours")
    owner.press("Turn it on")
    owner.see("Weather columnar is on")
    owner.go("Week", within="Pages")
    owner.press("Get forecasts now")
    owner.see("Weather columnar failed", seconds=180)
    owner.go("Plugins")
    owner.see("Weather columnar", within="Needs a look")
    owner.see("Resting", within="Needs a look")
    owner.see("weather.invalid", within="Needs a look")
    owner.go("Weather columnar")
    owner.press("Save, and ask it again")
    owner.see("Weather columnar is on")
    owner.press("Turn it off")
    owner.see("Weather columnar is off. Its options are kept.")
