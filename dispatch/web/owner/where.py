"""A position as a map gives it: both numbers in one, pasted into the field of the first."""

from collections.abc import Mapping

HINT = "or both here as a map gives them: 44.0935, -69.124"
_FIRST, _SECOND = "latitude", "longitude"


def apart(sent: Mapping[str, str]) -> dict[str, str]:
    """What was sent, with a pair in a field of latitude put into both of its fields."""
    found = dict(sent)
    for name, written in sent.items():
        other = name.removesuffix(_FIRST) + _SECOND
        north, comma, east = written.partition(",")
        if name.endswith(_FIRST) and comma and not sent.get(other, "").strip():
            found |= {name: north.strip(), other: east.strip()}
    return found
