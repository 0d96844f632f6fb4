"""Give every test process a place of its own: data folder, test database, broker."""

import os
import shutil
import tempfile
from collections.abc import Callable, Iterator
from contextlib import AbstractContextManager, contextmanager
from pathlib import Path
from urllib.parse import quote, urlsplit, urlunsplit

import pytest
from django.conf import settings
from django.db import connection

from dispatch.cli import embedded
from dispatch.config import keep

PLACE = pytest.StashKey[Path]()


def pytest_configure(config: pytest.Config) -> None:
    """Move this process out of the keeper's data and away from its neighbours' broker."""
    place = Path(tempfile.mkdtemp(prefix="leeboard-"))
    config.stash[PLACE] = place
    os.environ["LEEBOARD_DATA"] = str(place)
    # The first process of a run goes before the others and ends after them: what is laid is shared in its place.
    os.environ.setdefault("LEEBOARD_TESTS_LAID", tempfile.mkdtemp(dir=place))
    settings.DATA_DIR = place
    # What is shipped takes a third of a second for each password, on purpose.
    settings.PASSWORD_HASHERS = ["django.contrib.auth.hashers.MD5PasswordHasher"]
    settings.BROKER_SOCKET = keep.socket_path(place)
    if settings.REDIS_URL:
        settings.REDIS_URL = own_store(settings.REDIS_URL)
        os.environ["REDIS_URL"] = settings.REDIS_URL
    settings.CELERY_BROKER_URL = (
        settings.REDIS_URL or f"redis+socket://{settings.BROKER_SOCKET}"
    )
    if connection.vendor == "sqlite":
        connection.settings_dict["TEST"]["NAME"] = str(place / "test.sqlite3")


def own_store(url: str) -> str:
    """Return the address of this process's own numbered store: Redis has 16 of them.

    The address may be the parent process's, which has its own number already.
    """
    number = int(os.environ.get("PYTEST_XDIST_WORKER", "gw0").removeprefix("gw")) % 16
    parts = urlsplit(url)
    if parts.scheme == "redis+socket":
        return f"redis+socket://{parts.path}?virtual_host={number}"
    return urlunsplit(parts._replace(path=f"/{number}"))


def pytest_unconfigure(config: pytest.Config) -> None:
    """Leave nothing behind."""
    shutil.rmtree(config.stash[PLACE], ignore_errors=True)


def database_url() -> str:
    """Return the address of the database the tests are using now, for a child process."""
    now = connection.settings_dict
    if connection.vendor == "sqlite":
        return f"sqlite:////{str(now['NAME']).lstrip('/')}"
    return f"postgres://{now['USER']}@/{now['NAME']}?host={quote(now['HOST'])}"


type_of_start = Callable[..., AbstractContextManager[embedded.children.Children]]


@pytest.fixture
def start(transactional_db: None) -> type_of_start:
    """Return `start(...)`: the real broker and children, on the test database, for a block."""

    @contextmanager
    def block(**options: object) -> Iterator[embedded.children.Children]:
        environ = {"DATABASE_URL": database_url()} | dict(options.pop("environ", {}))
        with embedded.running(environ=environ, **options) as children:
            yield children

    return block
