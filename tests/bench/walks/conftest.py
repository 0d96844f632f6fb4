"""A hand for each width and each way, in a house of its own; at the end a table of every walk."""

import time
from collections.abc import Callable, Iterator
from contextlib import ExitStack
from pathlib import Path

import pytest
from playwright.sync_api import Browser, expect

from tests.bench.walks import house as houses
from tests.bench.walks import table
from tests.bench.walks.hand import Hand
from tests.bench.walks.keys import Keys
from tests.bench.walks.pointer import Pointer
from tests.bench.walks.watch import Watch
from tests.browser.conftest import (  # noqa: F401 - fixtures
    LISTEN,
    _let_django_run_beside_the_browser,
    chromium,
)

HEIGHTS = {1440: 900, 1024: 768, 390: 844}
WAYS = [(width, by) for width in HEIGHTS for by in ("keys", "pointer")]
HERE = "tests/bench/walks/"
# A machine that is busy with other work is slow, which is no fault of a page; what must be soon is measured by itself.
PATIENCE_MS = 90_000
Come = Callable[..., Hand]


def pytest_addoption(parser: pytest.Parser) -> None:
    parser.addoption("--laid", type=Path, help="lay the demo there once, and keep it")
    parser.addoption("--shots", type=Path, help="keep a picture of every page there")


def pytest_itemcollected(item: pytest.Item) -> None:
    if HERE in item.nodeid:
        item.add_marker(pytest.mark.bench)
        item.add_marker(pytest.mark.timeout(900))


@pytest.hookimpl(trylast=True)
def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    # A round keeps its house while the width and the way stay the same.
    items.sort(key=_round)


def _round(item: pytest.Item) -> int:
    walked = HERE in item.nodeid and isinstance(item, pytest.Function)
    given = (
        item.callspec.params.get("way")
        if walked and hasattr(item, "callspec")
        else None
    )
    return WAYS.index(given) if given in WAYS else -1


def pytest_terminal_summary(terminalreporter: pytest.TerminalReporter) -> None:
    for line in table.lines(terminalreporter.stats, HERE):
        terminalreporter.write_line(line)


@pytest.fixture(scope="session")
def laid(
    request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory
) -> Path:
    """Return the folder of a demo whose week is built and posted."""
    kept = request.config.getoption("--laid", default=None)
    return houses.lay((kept or tmp_path_factory.mktemp("laid")).absolute())


@pytest.fixture
def house(laid: Path, tmp_path: Path) -> Iterator[houses.House]:
    """Return a served copy of the demo."""
    with houses.served(tmp_path / "house", laid) as one:
        yield one


@pytest.fixture
def empty_house(tmp_path: Path) -> Iterator[houses.House]:
    """Return a served house that nobody has moved into."""
    with houses.served(tmp_path / "empty") as one:
        yield one


@pytest.fixture(params=WAYS, ids=lambda way: f"{way[0]}-{way[1]}")
def way(request: pytest.FixtureRequest) -> tuple[int, str]:
    """Return a width in pixels, and keys or pointer."""
    return request.param


@pytest.fixture
def visitor(
    chromium: Browser,  # noqa: F811 - the fixture
    way: tuple[int, str],
    request: pytest.FixtureRequest,
) -> Iterator[Come]:
    """Return `visitor(house)`: a hand at a browser of its own that is signed in nowhere."""
    hands: list[Hand] = []
    began = time.monotonic()
    with ExitStack() as stack:

        def come(at: houses.House) -> Hand:
            hands.append(hand_at(chromium, stack, at, way, shots(request)))
            return hands[-1]

        yield come
        spent = time.monotonic() - began
        keys = sum(one.watch.keys for one in hands)
        request.node.user_properties.append(("walk", [*way, round(spent), keys]))
        for one in hands:
            one.watch.shoot("last")


class Rounds:
    """The shared house of one width and way; another is opened for the next, or after a flow that failed."""

    def __init__(
        self, browser: Browser, laid: Path, folders: pytest.TempPathFactory
    ) -> None:
        self._browser, self._laid, self._folders = browser, laid, folders
        self._stack = ExitStack()
        self._kept: dict[tuple[int, str], Hand] = {}

    def hand(self, way: tuple[int, str]) -> Hand:
        """Return the owner's hand in the house of a width and way."""
        if way not in self._kept:
            self.close()
            folder = self._folders.mktemp("round") / "house"
            house = self._stack.enter_context(houses.served(folder, self._laid))
            hand = hand_at(self._browser, self._stack, house, way, None)
            self._kept[way] = signed_in(hand, house, "orla")
        return self._kept[way]

    def close(self) -> None:
        """Close the house that is open."""
        self._kept.clear()
        self._stack.close()


def shots(request: pytest.FixtureRequest) -> Path | None:
    folder = request.config.getoption("--shots", default=None)
    return folder and folder / request.node.name


def hand_at(
    browser: Browser,
    stack: ExitStack,
    at: houses.House,
    way: tuple[int, str],
    folder: Path | None,
) -> Hand:
    width, by = way
    touch = width == 390 and by == "pointer"
    context = browser.new_context(
        base_url=at.url,
        viewport={"width": width, "height": HEIGHTS[width]},
        has_touch=touch,
        is_mobile=touch,
        permissions=["accelerometer", "gyroscope", "magnetometer"],
    )
    stack.callback(context.close)
    context.add_init_script(LISTEN)
    page = context.new_page()
    page.set_default_timeout(PATIENCE_MS)
    expect.set_options(timeout=PATIENCE_MS)
    watch = Watch(page=page, shots=folder)
    how = Keys(watch) if by == "keys" else Pointer(watch, touch=touch)
    return Hand(page=page, by=by, width=width, how=how, watch=watch)


def signed_in(hand: Hand, house: houses.House, name: str) -> Hand:
    """Sign a hand in to the demo under a name, by the page."""
    hand.open("/")
    hand.write("Name", name)
    hand.write("Password", house.passwords[name])
    hand.press("Sign in")
    return hand


@pytest.fixture
def come(visitor: Come, house: houses.House) -> Come:
    """Return `come("orla")`: a hand that has signed in to the demo under that name, at the first page."""

    def sign_in(name: str) -> Hand:
        return signed_in(visitor(house), house, name)

    return sign_in


@pytest.fixture
def owner(come: Come) -> Hand:
    """Return the demo's owner at the board of the week that stands."""
    return come("orla")


@pytest.fixture(scope="session")
def rounds(
    chromium: Browser,  # noqa: F811 - the fixture
    laid: Path,
    tmp_path_factory: pytest.TempPathFactory,
) -> Iterator[Rounds]:
    """Return the houses that flows share which leave all as it was: one at a time, with its owner signed in."""
    rounds = Rounds(chromium, laid, tmp_path_factory)
    yield rounds
    rounds.close()


@pytest.fixture
def board(
    rounds: Rounds, way: tuple[int, str], request: pytest.FixtureRequest
) -> Iterator[Hand]:
    """Return the owner at the week's board of a shared demo; the flow leaves the house as it found it."""
    hand, began = rounds.hand(way), time.monotonic()
    hand.watch.begin(shots(request))
    hand.open("/week/")
    failed = request.session.testsfailed
    yield hand
    figures = [*way, round(time.monotonic() - began), hand.watch.keys]
    request.node.user_properties.append(("walk", figures))
    hand.watch.shoot("last")
    if request.session.testsfailed > failed:
        rounds.close()
