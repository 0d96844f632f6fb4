"""Names of plugins and of their options as people read them."""

# Words that are said by their letters.
_LETTERS = {word: word.upper() for word in ("csv", "http", "id", "sms", "smpp", "url")}


def spaced(name: str) -> str:
    """The name of a plugin, or of an option, as words."""
    first, *rest = (_LETTERS.get(word, word) for word in name.split("_"))
    return " ".join((first[:1].upper() + first[1:], *rest))
