"""A hand with a mouse or, on a phone, a finger: what it touches is large enough and wholly in sight."""

from playwright.sync_api import Locator

from tests.bench.walks.keys import PICKED
from tests.bench.walks.watch import Watch
from tests.browser.looks import TAP_PX

# A link within a sentence is as high as its line (WCAG 2.2, 2.5.8: inline targets are excepted).
IN_A_SENTENCE = """one => one.tagName === 'A' && getComputedStyle(one).display === 'inline'
    && [...one.parentElement.childNodes].some(near => near.nodeType === Node.TEXT_NODE && /\\w/.test(near.data))"""
# A tick or a dot is touched by its words too.
TOUCHED = """one => { const words = one.labels && /^(checkbox|radio)$/.test(one.type) && one.labels[0];
    (words || one).scrollIntoView({ block: 'nearest' });
    const box = (words || one).getBoundingClientRect();
    return [box.left, box.top, box.right, box.bottom, innerWidth, innerHeight]; }"""


class Pointer:
    """Clicks, or taps where the screen is a phone's."""

    def __init__(self, watch: Watch, *, touch: bool) -> None:
        self._watch = watch
        self._touch = touch

    def reach(self, target: Locator) -> None:
        """Bring the target on the screen; fail if it is not wholly there, or lower than a finger on a phone."""
        target.scroll_into_view_if_needed()
        left, top, right, bottom, width, height = target.evaluate(TOUCHED)
        seen = left >= -1 and top >= -1 and right <= width + 1 and bottom <= height + 1
        assert seen or bottom - top > height, f"{target} is not wholly in sight"
        if self._touch and not target.evaluate(IN_A_SENTENCE):
            assert bottom - top >= TAP_PX - 0.5, (
                f"{target} is {bottom - top:.0f} px high"
            )

    def press(self, target: Locator) -> None:
        """Click or tap a link, button or summary."""
        self.reach(target)
        if self._touch:
            target.tap()
        else:
            target.click()

    def write(self, target: Locator, words: str) -> None:
        """Touch a field and type in place of what stands there; a date or time is picked."""
        self.press(target)
        target.fill("")
        if target.get_attribute("type") in PICKED:
            target.fill(words)
        else:
            target.press_sequentially(words)

    def choose(self, target: Locator, words: str) -> None:
        """Pick the option of a list that has the words; tick a box or a dot."""
        self.reach(target)
        if target.evaluate("field => field.tagName") != "SELECT":
            target.set_checked(True)
            return
        labels = target.evaluate("field => [...field.options].map(one => one.label)")
        target.select_option(label=next(one for one in labels if words in one))
