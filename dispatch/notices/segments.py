"""How many segments a text message takes (3GPP TS 23.038, alphabets; TS 23.040, joined messages)."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

_BASIC = frozenset(
    "@£$¥èéùìòÇ\nØø\rÅåΔ_ΦΓΛΩΠΨΣΘΞÆæßÉ !\"#¤%&'()*+,-./0123456789:;<=>?"
    "¡ABCDEFGHIJKLMNOPQRSTUVWXYZÄÖÑÜ§¿abcdefghijklmnopqrstuvwxyzäöñüà"
)
# Each takes an escape and a second septet.
_EXTENSION = frozenset("\f^{}\\[~]|€")
_GSM_ALONE, _GSM_JOINED = 160, 153
_UCS2_ALONE, _UCS2_JOINED = 70, 67
_PLAIN = str.maketrans(
    {
        "\N{LEFT SINGLE QUOTATION MARK}": "'",
        "\N{RIGHT SINGLE QUOTATION MARK}": "'",
        "\N{LEFT DOUBLE QUOTATION MARK}": '"',
        "\N{RIGHT DOUBLE QUOTATION MARK}": '"',
        "\N{EN DASH}": "-",
        "\N{EM DASH}": "-",
        "\N{HORIZONTAL ELLIPSIS}": "...",
        "\N{NO-BREAK SPACE}": " ",
    }
)


@dataclass(frozen=True, kw_only=True)
class Segments:
    """The alphabet (GSM-7 or UCS-2), and the septets or 16-bit units in each segment."""

    alphabet: str
    units: tuple[int, ...]

    @property
    def count(self) -> int:
        """How many segments are sent and paid for."""
        return len(self.units)


def measure(text: str) -> Segments:
    """Cut a text into segments; a character of two units is never cut in two."""
    if set(text) <= _BASIC | _EXTENSION:
        widths = [2 if letter in _EXTENSION else 1 for letter in text]
        cut = _cut(widths, _GSM_ALONE, _GSM_JOINED)
        return Segments(alphabet="GSM-7", units=cut)
    widths = [2 if ord(letter) > 0xFFFF else 1 for letter in text]
    return Segments(alphabet="UCS-2", units=_cut(widths, _UCS2_ALONE, _UCS2_JOINED))


def plain(text: str) -> str:
    """The text with typographic quotes and dashes written plainly, so that they do not cost a wider alphabet."""
    return text.translate(_PLAIN)


def fit(sentences: Iterable[str], most: int, end: str = "") -> str:
    """As many sentences from the first on as fit into so many segments; the first is never left out.

    ``end`` is kept room for before all but the first; where it does not fit with that, it is left out.
    """
    first, *others = [plain(sentence) for sentence in sentences]
    text, close = first, f" {plain(end)}" if end else ""
    if measure(text + close).count > most:
        close = ""
    for sentence in others:
        longer = f"{text} {sentence}"
        if measure(longer + close).count > most:
            break
        text = longer
    return text + close


def _cut(widths: Sequence[int], alone: int, joined: int) -> tuple[int, ...]:
    if sum(widths) <= alone:
        return (sum(widths),)
    units = [0]
    for width in widths:
        if units[-1] + width > joined:
            units.append(0)
        units[-1] += width
    return tuple(units)
