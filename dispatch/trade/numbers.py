"""Numbers on a hull: forms of US vessel numbers and hull identification numbers. They warn and never refuse.

Vessel numbers: 33 CFR 174.23(a) and 173.27, prefixes by Appendix A to part 173. Hull identification numbers:
33 CFR 181.25. Boats from before August 1984, home-built, foreign and documented ones have other numbers.
"""

import re
from calendar import month_name
from dataclasses import dataclass

_PREFIXES = (
    "AL AK AS AZ AR CF CL CT DL DC FL GA GU HA ID IL IN IA KA KY LA ME MD MS MC MN MI MO MT NB NV NH NJ NM NY "
    "NC ND CM OH OK OR PA PR RI SC SD TN TX UT VT VA VI WN WV WS WY"
)
# A tender's number has its mother's and a 1 behind it.
_VESSEL = re.compile(
    r"([A-Z]{2})[ -]?(?:(\d{1,4})[ -]?([A-Z]{1,2})|(\d{1,3})[ -]?([A-Z]{3}))(?:[ -](1))?",
    re.ASCII,
)
_HULL = re.compile(r"([A-Z0-9]{3})([A-HJ-NPR-Z0-9]{5})([A-L])(\d)(\d{2})", re.ASCII)
_TWIN = frozenset("IOQ")


@dataclass(frozen=True, kw_only=True)
class HullNumber:
    """A hull identification number in its parts: month by name, years by the digits that it holds."""

    maker: str
    serial: str
    month: str
    year_digit: int
    model_year: int


def vessel_groups(text: str) -> tuple[str, ...]:
    """The groups of a US vessel number, as they stand on a hull with a space between; none where it has another form."""
    found = _VESSEL.fullmatch(text.strip().upper())
    return tuple(group for group in found.groups() if group) if found else ()


def vessel_shown(text: str) -> str:
    """A vessel number with a space between its groups; one of another form as it was entered."""
    return " ".join(vessel_groups(text)) or text.strip()


def hull_number(text: str) -> HullNumber | None:
    """A hull identification number's parts; None where it has another form, as many lawful ones do."""
    found = _HULL.fullmatch(text.strip().upper())
    if found is None:
        return None
    maker, serial, month, digit, model = found.groups()
    return HullNumber(
        maker=maker,
        serial=serial,
        month=month_name[ord(month) - ord("A") + 1],
        year_digit=int(digit),
        model_year=int(model),
    )


def doubt(text: str) -> str:
    """What looks wrong with a vessel number, in a sentence; empty where nothing does.

    A form that fits is no proof that the number is hers.
    """
    groups = vessel_groups(text)
    if not groups:
        return _other_form(text.strip())
    if groups[0] not in _PREFIXES.split():
        return f"{vessel_shown(text)} begins with {groups[0]}, which no US state uses. Check it against her papers."
    if _TWIN & set(groups[2]):
        return f"{vessel_shown(text)} ends with I, O or Q, which pass for numerals and are not given out. Check it against her papers."
    return ""


def _other_form(text: str) -> str:
    hull = hull_number(text)
    if hull is not None:
        return (
            f"{text} looks like a hull identification number ({hull.month}, model year {hull.model_year:02d}), "
            "not like a registration. Ask the owner for hers."
        )
    return (
        f"{text} has not the form of a US registration, as NH 1234 BD or WN 567 EFG. "
        "Check it against her papers, unless she is foreign or documented."
    )


def hull_doubt(text: str) -> str:
    """What looks wrong with a hull identification number, in a sentence; empty where nothing does. It never refuses."""
    if hull_number(text) is not None:
        return ""
    return (
        f"{text.strip()} has not the form of a US hull identification number, as ABC12345A787: 3 letters or digits "
        "of the maker, 5 of the serial without I, O and Q, a month A to L, 3 digits. Check it at the transom, "
        "unless she is older than August 1984, home-built or foreign."
    )
