"""One visitor at one page, by keys or by pointer: the few verbs that flows are told in."""

import time
from dataclasses import dataclass
from pathlib import Path
from re import Pattern

from playwright.sync_api import Locator, Page, expect

from tests.bench.walks.keys import Keys
from tests.bench.walks.pointer import Pointer
from tests.bench.walks.watch import Watch

Words = str | Pattern[str]
LONGEST_MS = 120_000


@dataclass(frozen=True, kw_only=True)
class Hand:
    """A hand: words name a thing exactly, a pattern in part; `within` names the region, the links or the group of fields it stands in."""

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

    def ask(self, words: Words, shown: Words, *, within: Words | None = None) -> float:
        """Press a button whose answer takes a while, and return the seconds until a heading is shown."""
        asked = self._part(within).get_by_role("button", name=words, exact=True)
        heading = self.page.get_by_role("heading", name=shown)
        self.how.reach(asked)
        began = time.monotonic()
        self.how.press(asked)
        expect(heading).to_be_visible(timeout=LONGEST_MS)
        took = time.monotonic() - began
        self.watch.step()
        return took

    def unfold(self, words: Words, *, within: Words | None = None) -> None:
        """Open what is folded under a line, the first that has the words."""
        part = self._part(within)
        line = part.locator("summary").filter(has_text=words).first
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

    def attach(self, field: Words, *files: Path, within: Words | None = None) -> None:
        """Press a field for files, and give the browser's own chooser some."""
        target = self._part(within).get_by_label(field)
        with self.page.expect_file_chooser() as asked:
            self.how.press(target)
        asked.value.set_files(list(files))

    def fetch(self, words: Words, *, within: Words | None = None) -> Path:
        """Follow a link to a file to keep, and return where it was kept."""
        with self.page.expect_download() as kept:
            self._press(self._part(within).get_by_role("link", name=words, exact=True))
        return kept.value.path()

    def see(
        self, words: Words, *, within: Words | None = None, seconds: float = 60
    ) -> None:
        """Wait until the page, or a region of it, shows words; any blank counts as one space."""
        assert self._comes(words, within, seconds), (
            f"{self.page.url} does not show {words}: {self.read(within=within)[:1500]}"
        )
        self.watch.step()

    def miss(self, words: Words, *, within: Words | None = None) -> None:
        """Fail if the page, or a region of it, shows words as it stands."""
        shown = self.read(within=within)
        assert not _has(shown, words), f"{self.page.url} shows {words}: {shown[:1500]}"

    def read(self, *, within: Words | None = None) -> str:
        """Return what the page, or a region of it, shows; each blank is one space."""
        part = self._part(within) if within else self.page.locator("main")
        return " ".join(part.inner_text().split())

    def _comes(self, words: Words, within: Words | None, seconds: float) -> bool:
        until = time.monotonic() + seconds
        while time.monotonic() < until:
            self.watch.settle()
            part = self._part(within) if within else self.page.locator("main")
            if part.count() and _has(self.read(within=within), words):
                return True
            self.page.wait_for_timeout(100)
        return False

    def judge(self) -> None:
        """Judge the page as it stands now: a part of it was renewed."""
        self.watch.judge()

    def _part(self, within: Words | None) -> Page | Locator:
        if within is None:
            return self.page
        role = self.page.get_by_role
        named = role("group", name=within, exact=True).or_(
            role("navigation", name=within, exact=True)
        )
        return role("region", name=within).or_(named)

    def _press(self, target: Locator) -> None:
        expect(target).to_be_visible()
        self.how.press(target)
        self.page.wait_for_timeout(150)
        self.watch.step()


def _has(shown: str, words: Words) -> bool:
    if isinstance(words, str):
        return words in shown
    return words.search(shown) is not None
