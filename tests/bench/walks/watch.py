"""What every page that a walk comes to is asked: it complains of nothing, keeps a strict policy, fits, reads well."""

from dataclasses import dataclass, field
from pathlib import Path
from urllib.parse import urlsplit

from playwright.sync_api import Error, Page, Request, Response

from tests.browser.conftest import listen
from tests.browser.looks import serious_in_any_light, wider_than_the_screen

LOOSE = ("unsafe-inline", "unsafe-eval", "unsafe-hashes")
WAIT_S = 90
WENT_ON = "because of a navigation"
_JUDGED: set[tuple[int, str, str]] = set()


@dataclass(kw_only=True)
class Watch:
    """One page's watcher: what it complained of, how often it was loaded and judged, the keys pressed on it."""

    page: Page
    shots: Path | None = None
    keys: int = 0
    complaints: list[str] = field(default_factory=list)
    asked: int = 0
    failed: int = 0
    loads: int = 0
    judged: int = 0

    def __post_init__(self) -> None:
        listen(self.page, self.complaints)
        self.page.on("response", self._policy)
        self.page.on("load", self._loaded)
        self.page.on("request", self._asked)
        self.page.on("requestfailed", self._failed)

    def _loaded(self, _page: Page) -> None:
        self.loads += 1

    def _asked(self, request: Request) -> None:
        self.asked += request.is_navigation_request() and not request.redirected_from

    def _failed(self, request: Request) -> None:
        # One that is overtaken by another, or whose answer is a file to keep.
        self.failed += request.is_navigation_request()

    def _policy(self, answer: Response) -> None:
        """Complain of a page that came without its policy, or with a loose one; files to keep are no pages."""
        if not answer.request.is_navigation_request() or 300 <= answer.status < 400:
            return
        policy = answer.headers.get("content-security-policy", "")
        if "html" not in answer.headers.get("content-type", ""):
            return
        loose = [word for word in LOOSE if word in policy]
        if not policy or loose:
            self.complaints.append(f"policy of {answer.url}: {loose or 'none'}")

    def settle(self) -> None:
        """Wait until every page that was asked for is there."""
        for _ in range(WAIT_S * 20):
            if self.loads + self.failed >= self.asked:
                return
            self.page.wait_for_timeout(50)
        raise AssertionError(f"No page came in {WAIT_S} s after {self.page.url}.")

    def step(self) -> None:
        """Judge the page if it was loaded since it was judged last; else ask what costs nothing."""
        self.settle()
        while self.loads != self.judged:
            self.judge()
            self.settle()
        assert self.complaints == [], f"{self.page.url}: {self.complaints}"

    def begin(self, shots: Path | None) -> None:
        """Begin another flow on the same page."""
        self.shots, self.keys = shots, 0
        self.complaints.clear()

    def judge(self) -> None:
        """Judge the page as it stands; one that went on by itself meanwhile is judged once it has come anew."""
        try:
            self._judge()
        except Error as error:
            if WENT_ON not in error.message:
                raise
            self.settle()
            self._judge()

    def _judge(self) -> None:
        """Fail if the page as it stands moves sideways, or axe-core finds something serious in any light.

        What was judged before, with the same words at the same width, is not asked of axe-core again.
        """
        self.judged = self.loads
        wider = wider_than_the_screen(self.page)
        assert wider == 0, f"{self.page.url} moves sideways by {wider} px"
        stands = self._stands()
        if stands in _JUDGED:
            return
        found = serious_in_any_light(self.page)
        self.shoot(f"{self.judged:02}")
        assert found == [], f"{self.page.url}: {found}"
        _JUDGED.add(stands)

    def _stands(self) -> tuple[int, str, str]:
        width = self.page.viewport_size["width"]
        shown = self.page.locator("body").inner_text()
        return width, urlsplit(self.page.url).path, shown

    def shoot(self, name: str) -> None:
        """Keep a picture of the page, if pictures are wanted."""
        if self.shots is not None:
            self.shots.mkdir(parents=True, exist_ok=True)
            self.page.screenshot(path=self.shots / f"{name}.png", full_page=True)
