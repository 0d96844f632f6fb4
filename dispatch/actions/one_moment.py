"""What is read once for a page: the outfit, settings, the clock and forecasts, for as long as a block lasts.

A page shows one moment. Within the block what was read first is read again from memory, so that the statements
a page asks of the database do not grow with its boats; outside it nothing is remembered.
"""

from collections.abc import Callable, Hashable, Iterator
from contextlib import contextmanager
from contextvars import ContextVar
from typing import TypeVar

from dispatch.records.models import Outfit

_Known = TypeVar("_Known")
_KEPT: ContextVar[dict[Hashable, object] | None] = ContextVar("kept", default=None)


@contextmanager
def held() -> Iterator[None]:
    """Read each thing once within the block, or the one around it; nothing may be written in it."""
    if _KEPT.get() is not None:
        yield
        return
    token = _KEPT.set({})
    try:
        yield
    finally:
        _KEPT.reset(token)


def once(key: Hashable, make: Callable[[], _Known]) -> _Known:
    """What a key stands for: made, or within a block what was made first."""
    kept = _KEPT.get()
    if kept is None:
        return make()
    if key not in kept:
        kept[key] = make()
    return kept[key]  # type: ignore[return-value]


def outfit() -> Outfit:
    """The outfit.

    Raises:
        Outfit.DoesNotExist: nobody has entered one.
    """
    return once("outfit", Outfit.objects.get)
