"""A real browser on a live server; whatever the page complains of fails the test."""

from collections.abc import Callable, Iterator

import pytest
from playwright.sync_api import (
    Browser,
    BrowserContext,
    ConsoleMessage,
    Page,
    expect,
    sync_playwright,
)

# Debian's Chromium as it is built to draw no window of its own: the same pages for two thirds of the work.
CHROMIUM = "/usr/bin/chromium-headless-shell"
ARGS = [
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
]
# Broken policy is reported by the page itself, so that no violation passes in silence.
LISTEN = """
document.addEventListener('securitypolicyviolation', (e) => {
    console.error('policy: ' + e.violatedDirective + ' ' + e.blockedURI + ' ' + e.sample);
});
"""

PageMaker = Callable[..., Page]


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    for item in items:
        if "tests/browser/" in item.nodeid:
            item.add_marker(pytest.mark.browser)
            item.add_marker(pytest.mark.timeout(120))


@pytest.fixture(scope="session")
def _let_django_run_beside_the_browser() -> Iterator[None]:
    """Allow rows to be read while the browser's own loop runs in this thread."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setenv("DJANGO_ALLOW_ASYNC_UNSAFE", "1")
        yield


@pytest.fixture(scope="session")
def chromium(_let_django_run_beside_the_browser: None) -> Iterator[Browser]:
    # A page that others keep waiting for a core is slow, not wrong.
    expect.set_options(timeout=15_000)
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=CHROMIUM, args=ARGS)
        yield browser
        browser.close()


@pytest.fixture
def complaints() -> list[str]:
    """Return the list of what pages complained of; it must be empty at the end of the test.

    A test that means to provoke a complaint takes it out of the list itself.
    """
    return []


@pytest.fixture
def new_page(
    chromium: Browser,
    live_server: object,
    transactional_db: None,
    complaints: list[str],
) -> Iterator[PageMaker]:
    """Return `new_page(width=..., height=..., **options)`: a page of a visitor of its own."""
    contexts: list[BrowserContext] = []

    def make(width: int = 1280, height: int = 900, **options: object) -> Page:
        context = chromium.new_context(
            base_url=live_server.url,
            viewport={"width": width, "height": height},
            **options,
        )
        context.add_init_script(LISTEN)
        contexts.append(context)
        page = context.new_page()
        listen(page, complaints)
        return page

    yield make
    for context in contexts:
        context.close()
    assert complaints == []


@pytest.fixture
def page(new_page: PageMaker) -> Page:
    """Return a page as wide as a desk's screen."""
    return new_page()


@pytest.fixture
def phone(new_page: PageMaker) -> Page:
    """Return a page as wide as a phone."""
    return new_page(width=390, height=844, has_touch=True, is_mobile=True)


def listen(page: Page, complaints: list[str]) -> None:
    """Put errors of the console, of scripts and of the server in the list."""

    def console(message: ConsoleMessage) -> None:
        # A refused page (4xx) is the server's proper answer, though the console calls it an error.
        if message.type == "error" and "status of 4" not in message.text:
            complaints.append(f"console: {message.text}")

    page.on("console", console)
    page.on("pageerror", lambda error: complaints.append(f"script: {error}"))


@pytest.fixture
def sign_in(live_server: object, client: object) -> Callable[[Page, object], None]:
    """Return `sign_in(page, account)`: the page's visitor is that account from now on."""

    def act(page: Page, account: object) -> None:
        client.force_login(account)
        cookie = client.cookies["sessionid"]
        page.context.add_cookies(
            [{"name": "sessionid", "value": cookie.value, "url": live_server.url}]
        )

    return act
