"""A hand with a keyboard only: it tabs until what it wants has the focus, and sees that it has."""

from playwright.sync_api import Locator

from tests.bench.walks.watch import Watch

FARTHEST = 400
ARROWS_MOST = 60
PARTS = 6
PICKED = ("date", "time", "datetime-local")

# Where the focus is: is it what is wanted, does that come before it, how is it called, and is it seen?
HERE = """want => {
    const here = document.activeElement;
    const before = here !== document.body && !!(here.compareDocumentPosition(want) & Node.DOCUMENT_POSITION_PRECEDING);
    const name = (here.getAttribute('aria-label') || here.innerText || here.textContent || here.name || here.id || '');
    return [here === want, before, here.tagName.toLowerCase() + ' ' + name.trim().slice(0, 30)];
}"""
# A focus is seen where a ring is drawn round what lies on the screen and under nothing else.
SEEN = """here => {
    const box = here.getBoundingClientRect(), style = getComputedStyle(here);
    const x = box.x + box.width / 2, y = box.y + box.height / 2;
    const inside = box.bottom > 0 && box.top < innerHeight && box.right > 0 && box.left < innerWidth;
    const ring = style.outlineStyle !== 'none' && parseFloat(style.outlineWidth) >= 1;
    const top = document.elementFromPoint(
        Math.min(Math.max(x, 1), innerWidth - 1), Math.min(Math.max(y, 1), innerHeight - 1));
    const bare = !top || here.contains(top) || top.contains(here);
    return [!ring && 'no ring is drawn', !inside && 'it is off the screen', !bare && 'it lies under something']
        .filter(Boolean);
}"""
CHOSEN = "field => field.options[field.selectedIndex].label"


class Keys:
    """Tab, Shift+Tab, Enter, Space, arrows and typing; never a click, a fill or a focus by script."""

    def __init__(self, watch: Watch) -> None:
        self._watch = watch
        self._board = watch.page.keyboard

    def strike(self, key: str) -> None:
        """Press one key, and count it."""
        self._board.press(key)
        self._watch.keys += 1

    def reach(self, target: Locator) -> None:
        """Tab until the target has the focus; fail with what had it on the way if it never comes."""
        way: list[str] = []
        onward = False
        for _ in range(FARTHEST):
            # Asked anew each time: a part of the page may have been renewed meanwhile.
            here, before, name = target.evaluate(HERE)
            if here:
                self._seen(target)
                return
            way.append(name)
            # Where the focus goes as the eye does, not as the page is written, turning back leads round in a circle.
            onward = onward or way[-4:-2] == way[-2:] != way[-1:] * 2
            self.strike("Shift+Tab" if before and not onward else "Tab")
        raise AssertionError(f"Keys never reach {target}: {' > '.join(way[:80])}")

    def _seen(self, target: Locator) -> None:
        amiss = target.evaluate(SEEN)
        assert amiss == [], f"The focus on {target} is not seen: {amiss}"

    def press(self, target: Locator) -> None:
        """Reach a link, button or summary, and press Enter."""
        self.reach(target)
        self.strike("Enter")

    def write(self, target: Locator, words: str) -> None:
        """Reach a field and type, in place of what stands there; a date is 2027-05-25, a time 09:15, both 2027-05-25T09:15."""
        self.reach(target)
        kind = target.get_attribute("type") or "text"
        if kind in PICKED:
            self._first_part(target)
            self._emptied(target)
        else:
            self.strike("Control+a")
            self.strike("Delete")
        if not words:
            return
        if kind == "datetime-local":
            day, words = words.split("T")
            self._type(as_typed("date", day))
            self.strike("ArrowRight")
            kind = "time"
        self._type(as_typed(kind, words))

    def _first_part(self, target: Locator) -> None:
        """Come to a date or time from before it: from behind, the button of its calendar has the focus first."""
        while target.evaluate("field => field === document.activeElement"):
            self.strike("Shift+Tab")
        self.strike("Tab")

    def _emptied(self, target: Locator) -> None:
        """Take out each part of a date or time that stands, and go back to its first."""
        while target.evaluate("field => field.validity.badInput || field.value !== ''"):
            self.strike("Delete")
            self.strike("ArrowRight")
        for _ in range(PARTS):
            self.strike("ArrowLeft")

    def _type(self, words: str) -> None:
        self._board.type(words)
        self._watch.keys += len(words)

    def choose(self, target: Locator, words: str) -> None:
        """Reach a list and go to an option by arrows; on a box or a dot that is not ticked, press Space."""
        self.reach(target)
        if target.evaluate("field => field.tagName") != "SELECT":
            if not target.is_checked():
                self.strike("Space")
            return
        labels = target.evaluate("field => [...field.options].map(one => one.label)")
        wanted = labels.index(next(one for one in labels if words in one))
        for _ in range(ARROWS_MOST):
            now = labels.index(target.evaluate(CHOSEN))
            if now == wanted:
                return
            self.strike("ArrowDown" if now < wanted else "ArrowUp")
        raise AssertionError(f"Arrows never reach {words}.")


def as_typed(kind: str, words: str) -> str:
    """Return the keys that enter a date or time in a browser of the outfit's country; all else as it is."""
    if kind == "date":
        year, month, day = words.split("-")
        return month + day + year
    if kind == "time":
        hour, minute = words.split(":")
        return (
            f"{(int(hour) - 1) % 12 + 1:02}{minute}{'pm' if int(hour) >= 12 else 'am'}"
        )
    return words
