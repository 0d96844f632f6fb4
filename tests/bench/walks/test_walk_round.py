"""A boat is walked round: her facts, a photo, her heading and her neighbours; reckoned at once, and taken into the book."""

from pathlib import Path
from re import compile as words

from tests.actions import pictures
from tests.bench.walks.hand import Hand

# What a phone's own sensor would tell: 90° anticlockwise of north is heading 270.
TURNED = """() => window.dispatchEvent(new DeviceOrientationEvent(
    'deviceorientationabsolute', { alpha: 90, absolute: true }))"""


def fill_in(hand: Hand) -> None:
    """Enter a new boat, her customer and a new place with what it has, and what there is to do."""
    hand.write("Name", "Third Time", within="The boat")
    hand.write("Length, ft", "20")
    hand.write("Name", "Brannock", within="Her customer")
    hand.write("Name of the place", "Driveway, Tern Lane")
    hand.write("Latitude", "44.0935, -69.124")
    hand.choose("Water there")
    hand.choose("Power there")
    hand.write("A neighbour that spray must not reach", "white car")
    hand.write("Its bearing from her", "45")
    hand.write("How far off", "60")
    hand.choose("Kind of job", "Full spray coat")
    hand.choose("Product", "Lanternglass One")
    hand.choose("Condition", "3, chalks")


def reckoned(hand: Hand) -> None:
    """See minutes, ounces, price and days of what was entered, at once."""
    hand.press("Reckon it")
    told = "Reckoned, not stored"
    for said in (words(r"\d,\d{3}\smin"), words(r"\d\soz"), words(r"\$\d"), "Promise "):
        hand.see(said, within=told)
    hand.judge()


def test_a_heading_by_compass(owner: Hand, tmp_path: Path) -> None:
    photo = tmp_path / "bow.jpg"
    photo.write_bytes(pictures.jpeg())
    owner.go("Book")
    owner.go("Walk-round")
    owner.attach("All sides, and what is chipped", photo)
    fill_in(owner)
    owner.press("Read the compass")
    owner.page.evaluate(TURNED)
    owner.see("270° by compass")
    owner.press("Take this heading")
    reckoned(owner)
    owner.press("Agreed: take it")
    owner.see("Third Time: full spray coat")
    owner.go("Third Time")
    owner.see("Photos")
    assert owner.page.locator(".photos img").count() == 1
    owner.go("Her sun and shade")
    owner.see("270°")
    owner.go("Book")
    owner.see(words(r"Third Time[\s\S]*Driveway, Tern Lane[\s\S]*Agreed"))


def test_a_heading_by_hand(owner: Hand) -> None:
    owner.go("Book")
    owner.go("Take a new job")
    owner.press("Read the compass")
    owner.press("Take this heading")
    owner.see("No compass was heard. Enter the heading by hand.")
    owner.press("Reckon it")
    owner.see(words("Nothing was stored"))
    fill_in(owner)
    owner.write("Heading of her bow", "100")
    owner.choose("Heading is", "True")
    reckoned(owner)
    owner.press("Keep it as asked for")
    owner.see("Third Time: full spray coat")
    owner.go("Its money")
    owner.see("Agreed")
