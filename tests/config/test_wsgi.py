"""The web server's way in: what it does before the first page."""

import gc
from importlib import import_module

import pytest


@pytest.mark.django_db
def test_the_collector_is_spared_what_stays_for_good() -> None:
    """What is read at the start is walked no more: a full round then takes a tenth of the time it took (gc.freeze, Python's manual)."""
    try:
        assert import_module("dispatch.config.wsgi").application
        assert gc.get_freeze_count() > 100_000
    finally:
        gc.unfreeze()
