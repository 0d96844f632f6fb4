"""The secret is made once and is its owner's; the socket's path is never too long."""

import os
import stat
from concurrent.futures import ThreadPoolExecutor

from dispatch.config import keep


def test_the_secret_is_made_once_and_is_its_owners_alone(tmp_path):
    path = tmp_path / "new" / "secret"
    first = keep.secret(path)
    assert len(first) >= 50
    assert keep.secret(path) == first
    assert stat.S_IMODE(path.stat().st_mode) == 0o600
    assert [entry.name for entry in path.parent.iterdir()] == ["secret"]


def test_many_first_starts_at_once_agree_on_one_secret(tmp_path):
    with ThreadPoolExecutor(8) as pool:
        found = set(pool.map(keep.secret, [tmp_path / "secret"] * 32))
    assert len(found) == 1


def test_a_socket_fits_the_systems_limit_however_deep_the_folder(tmp_path):
    deep = tmp_path / ("a" * 90) / ("b" * 90)
    assert len(os.fsencode(keep.socket_path(deep))) < 107
    assert keep.socket_path(deep) != keep.socket_path(deep / "c")
    assert keep.socket_path(deep) == keep.socket_path(deep)
