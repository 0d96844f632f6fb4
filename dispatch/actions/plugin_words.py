"""Names of plugins and of their options as people read them."""

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
