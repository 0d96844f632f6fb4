"""Rain comes: a newer forecast spoils what stands, an alarm says so with numbers, and the owner plans anew or overrules it."""

import csv
import datetime
import re
from pathlib import Path

from tests.bench.walks import house as houses
from tests.bench.walks.hand import Hand
from tests.bench.walks.test_replan import CHANGES, anew
from tests.bench.walks.week import TIMES, boats, snags, take

DRY = "Compound"
SKY = houses.ROOT / "fixtures/demo/weather/forecast_issued_sun_1800.csv"
ISSUED = "2027-05-23T18:30:00-04:00"
WET = {"rain_in": "0.20", "rain_prob_pct": "90", "cloud_pct": "100"}
SPOILT = re.compile(
    r"the sky no longer allows it\. Rain 0\.20 in, chance 90 %: needs a chance below 40 %"
)


def rain_on(day: str, folder: Path) -> None:
    """Write a forecast into a folder: the demo's, with rain from morning to night of one day, by its name."""
    with SKY.open() as lines:
        hours = list(csv.DictReader(lines))
    for hour in hours:
        if datetime.datetime.fromisoformat(hour["time"]).strftime("%a") == day:
            hour.update(WET)
    with (folder / "rain.csv").open("w", newline="") as out:
        rows = csv.DictWriter(out, list(hours[0]))
        rows.writeheader()
        rows.writerows(hours)


def rain_comes(hand: Hand, folder: Path) -> str:
    """Have rain forecast for the day of a boat's dry work, see the alarm, and return the boat."""
    boat = boats(hand, DRY)[0]
    strips = hand.page.locator(f'svg.board a[aria-label^="{boat}, "]')
    labels = strips.evaluate_all("all => all.map(one => one.ariaLabel)")
    found = (re.match(rf".+?, ({TIMES}): {DRY}", one) for one in labels)
    rain_on(next(one[1] for one in found if one)[:3], folder)
    hand.go("Plugins")
    hand.go("Weather file")
    hand.write("Folder", str(folder))
    hand.write("File", "rain.csv")
    hand.write("Issued at", ISSUED)
    hand.press("Save the options")
    hand.see("Weather file is on with the options you see.")
    hand.go("Week")
    hand.press("Get forecasts now")
    hand.see(re.compile("issued Sun 23 May 18:30"), seconds=120)
    snags(hand)
    hand.see(re.compile(rf"{boat} “{DRY}” {TIMES}: {SPOILT.pattern}"))
    return boat


def test_rain_comes_and_the_week_is_planned_anew(owner: Hand, tmp_path: Path) -> None:
    boat = rain_comes(owner, tmp_path)
    owner.see(re.compile(r"Forbids \d+ visit"), within="The week at a glance")
    anew(owner, re.compile(f"^Plan the rest anew ?: {boat}"), f"{boat}: “{DRY}”")
    owner.see(
        re.compile(rf"{boat}: “?{DRY}|{boat}.* left out|\d+ more visit"), within=CHANGES
    )
    take(owner)
    snags(owner)
    owner.miss(re.compile(rf"{boat} “{DRY}” {TIMES}: {SPOILT.pattern}"))
    owner.see("The week is posted")


def test_a_forbidden_visit_is_overruled_with_a_reason(
    owner: Hand, tmp_path: Path
) -> None:
    boat = rain_comes(owner, tmp_path)
    alarms = owner.page.locator(".snag").filter(has_text="the sky no longer allows it")
    snag = alarms.filter(has_text=f"“{DRY}”").filter(has_text=boat)
    owner.how.press(snag.get_by_role("link", name="Why?"))
    owner.see("Against the posted visit")
    owner.see("Overruling a rule does not make the work safe")
    owner.write("Your reason, kept and shown", "The yard lets us into its shed")
    owner.press(re.compile("^Overrule: "))
    owner.see("The yard lets us into its shed")
    why = owner.page.url
    owner.go("Week")
    snags(owner)
    owner.miss(re.compile(rf"{boat} “{DRY}” {TIMES}: {SPOILT.pattern}"))
    owner.see(re.compile(rf"{boat} “{DRY}” {TIMES}: .*The yard lets us into its shed"))
    owner.open(why)
    owner.press("Let the rule stand again")
    owner.see("stands again")
    owner.go("Week")
    snags(owner)
    owner.see(SPOILT)
