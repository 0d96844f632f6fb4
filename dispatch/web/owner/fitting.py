"""How much of a name there is room for on the drawing; what is left out is told whole beside it, by title and in words."""

_TAIL = 8
# Widths of letters in em, of the broadest of the fonts a page may be read in.
_SLIM, _BROAD, _CAPITAL, _OTHER = 0.38, 1.0, 0.77, 0.66
_SLIM_LETTERS, _BROAD_LETTERS = frozenset("fijlt|I.,:;'!()- "), frozenset("mwMW@%")


def width(words: str, em: float) -> float:
    """About how many pixels words take in bold letters of so many pixels."""
    return em * sum(map(_of_letter, words))


def fitted(name: str, room: float, em: float) -> str:
    """A name with its middle left out where so many pixels have no room for it; the end tells twins apart."""
    if width(name, em) <= room:
        return name
    for kept in range(len(name) - 1, 0, -1):
        tail = min(_TAIL, kept // 2)
        short = (
            f"{name[: kept - tail].rstrip()}…{name[-tail:].lstrip() if tail else ''}"
        )
        if width(short, em) <= room:
            return short
    return ""


def whole_words(name: str, letters: int) -> str:
    """As many whole words of a name, from its first, as fit into so many letters; perhaps none."""
    words = name.split()
    while words and len(" ".join(words)) > letters:
        words.pop()
    return " ".join(words).rstrip(",")


def _of_letter(letter: str) -> float:
    if letter in _SLIM_LETTERS:
        return _SLIM
    if letter in _BROAD_LETTERS:
        return _BROAD
    return _CAPITAL if letter.isupper() or letter == "…" else _OTHER
