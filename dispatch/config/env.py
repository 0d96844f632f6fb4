"""Three strict readers of the environment: a setting is right, absent, or refused with a sentence."""

import os

from django.core.exceptions import ImproperlyConfigured

YES = frozenset({"1", "yes", "true", "on"})
NO = frozenset({"0", "no", "false", "off"})


def text(name: str, default: str) -> str:
    """Return the variable's text without outer blanks; an empty one counts as absent."""
    return os.environ.get(name, "").strip() or default


def number(name: str, default: int, *, least: int, most: int) -> int:
    """Return a whole number from least to most; anything else raises ImproperlyConfigured."""
    raw = text(name, str(default))
    if not raw.isascii() or not raw.isdigit() or not least <= int(raw) <= most:
        raise ImproperlyConfigured(
            f"{name} is {raw!r}: give a whole number from {least} to {most}."
        )
    return int(raw)


def flag(name: str, *, default: bool) -> bool:
    """Return yes or no; any other word raises ImproperlyConfigured."""
    raw = text(name, "yes" if default else "no").lower()
    if raw not in YES | NO:
        raise ImproperlyConfigured(f"{name} is {raw!r}: give yes or no.")
    return raw in YES
