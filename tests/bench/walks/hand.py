"""One visitor at one page, by keys or by pointer: the few verbs that flows are told in."""

from dataclasses import dataclass
from re import Pattern

from playwright.sync_api import Locator, Page, expect

from tests.bench.walks.keys import Keys
from tests.bench.walks.pointer import Pointer
from tests.bench.walks.watch import Watch

Words = str | Pattern[str]


@dataclass(frozen=True, kw_only=True)
class Hand:
    """A hand: words name a thing exactly, a pattern in part; `within` names the region it stands in."""

    page: Page
    by: str
    width: int
    how: Keys | Pointer
    watch: Watch

    def open(self, address: str) -> None:
        """Open an address of the house, as from a bookmark."""
        self.page.goto(address)
        self.watch.step()

    def go(self, words: Words, *, within: Words | None = None) -> None:
        """Follow a link."""
        self._press(self._part(within).get_by_role("link", name=words, exact=True))

    def press(self, words: Words, *, within: Words | None = None) -> None:
        """Press a button."""
        self._press(self._part(within).get_by_role("button", name=words, exact=True))

    def unfold(self, words: Words, *, within: Words | None = None) -> None:
        """Open what is folded under a line."""
        part = self._part(within)
        line = part.locator("summary").filter(has_text=words)
        if not line.evaluate("line => line.parentElement.open"):
            self._press(line)

    def write(self, field: Words, words: str, *, within: Words | None = None) -> None:
        """Write into a field, by its label; what stood there goes."""
        self.how.write(self._part(within).get_by_label(field), words)

    def choose(
        self, field: Words, words: str = "", *, within: Words | None = None
    ) -> None:
        """Pick a list's option that has the words, or tick a box or a dot, by its label."""
        self.how.choose(self._part(within).get_by_label(field), words)

    def see(
        self, words: Words, *, within: Words | None = None, seconds: float = 15
    ) -> None:
        """Wait until the page, or a region of it, shows words."""
        part = self._part(within) if within else self.page.locator("main")
        expect(part).to_contain_text(words, use_inner_text=True, timeout=1000 * seconds)
        self.watch.step()

    def miss(self, words: Words, *, within: Words | None = None) -> None:
        """Wait until the page, or a region of it, does not show words."""
        part = self._part(within) if within else self.page.locator("main")
        expect(part).not_to_contain_text(words, use_inner_text=True)

    def judge(self) -> None:
        """Judge the page as it stands now: a part of it was renewed."""
        self.watch.judge()

    def _part(self, within: Words | None) -> Page | Locator:
        if within is None:
            return self.page
        return self.page.get_by_role("region", name=within)

    def _press(self, target: Locator) -> None:
        expect(target).to_be_visible()
        self.how.press(target)
        self.page.wait_for_timeout(50)
        self.watch.step()
