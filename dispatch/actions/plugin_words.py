"""Names of plugins and of their options as people read them."""

import re
from collections.abc import Iterable

# Words that are said by their letters, and one that is said in full.
_SAID = {word: word.upper() for word in ("csv", "http", "id", "sms", "smpp", "url")}
_SAID |= {"pct": "percent"}


def spaced(name: str) -> str:
    """The name of a plugin, or of an option, as words."""
    words = within(name)
    return words[:1].upper() + words[1:]


def within(name: str) -> str:
    """The same words within a sentence."""
    return " ".join(_SAID.get(word, word) for word in name.split("_"))


def by_name(said: str, plugin: str) -> str:
    """A fault that begins with a plugin's key, with its name in the key's place."""
    return re.sub(rf"^Plugin {re.escape(plugin)}\b", spaced(plugin), said)


def plainly(said: str, plugin: str, options: Iterable[str]) -> str:
    """What a plugin said of itself and its options, these by the labels their fields have: “Wait seconds” is no number."""
    told = said.removeprefix(f"Plugin {plugin}: ")
    if told.startswith(f"Plugin {plugin} "):
        told = f"It {told.removeprefix(f'Plugin {plugin} ')}"
    for option in named(told, options):
        told = re.sub(
            rf"\b(the )?option {re.escape(option)}\b", f"“{spaced(option)}”", told
        )
    return told[:1].upper() + told[1:]


def named(said: str, options: Iterable[str]) -> tuple[str, ...]:
    """Those of the options that a sentence names, the first it names first."""
    found = {
        at.start(): option
        for option in options
        if (at := re.search(rf"\boption {re.escape(option)}\b", said))
    }
    return tuple(found[place] for place in sorted(found))
