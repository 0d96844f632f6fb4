"""Every rule that says no: who may overrule it, and where it comes from.

``wall`` is nobody, ``owner`` the owner with a reason, ``lead`` the crew's lead on site. A limit that a product's
sheet sets is always a wall, whatever stands here.
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from types import MappingProxyType
from typing import Protocol, TypeVar

STRENGTHS = ("wall", "owner", "lead")
# What stands against work because too little is known, not because something is wrong.
MISSING = ("unknown", "no-heading", "old-forecast")


class _Judged(Protocol):
    @property
    def strength(self) -> str: ...
    @property
    def code(self) -> str: ...


J = TypeVar("J", bound=_Judged)


@dataclass(frozen=True, kw_only=True)
class Rule:
    """Who may overrule a rule and where it comes from; ``by_sheet``: a product's sheet may set its limit.

    ``least`` says what nobody may go below all the same. A lead may overrule what overlaps a visit by no more
    than ``lead_minutes``.
    """

    code: str
    name: str
    strength: str
    source: str
    by_sheet: bool = False
    least: str = ""
    lead_minutes: int = 0

    def __post_init__(self) -> None:
        if self.strength not in STRENGTHS:
            raise ValueError(f"A rule's strength is one of {', '.join(STRENGTHS)}.")

    def holds_for(self, *, sheet: bool, below_least: bool = False) -> str:
        """Who may overrule it: nobody below its least, nor where a sheet sets the limit."""
        return "wall" if below_least or (sheet and self.by_sheet) else self.strength


_OURS = "Our assumption, a setting."
_COMMON = "Common practice of the trade."
_SHEET = "The product's sheet; without one, our assumption, a setting."
_HOUSE = (
    Rule(
        code="unknown",
        name="Not known",
        strength="wall",
        source="What is not known is never a go.",
    ),
    Rule(
        code="no-heading",
        name="Heading not read",
        strength="wall",
        source="What is not known is never a go.",
    ),
    Rule(
        code="old-forecast",
        name="Forecast too old",
        strength="owner",
        source=_OURS,
    ),
    Rule(
        code="place-rule",
        name="The place's own rule",
        strength="wall",
        source="The yard's or the place's rule, as it is entered on its page.",
    ),
    Rule(code="rain", name="Rain", strength="owner", source=_OURS),
    Rule(
        code="sun",
        name="Sun on the panel",
        strength="owner",
        source=f"{_COMMON} A lead may go 20 min over it.",
        lead_minutes=20,
    ),
    Rule(code="resting", name="Rest out of the sun", strength="lead", source=_OURS),
    Rule(
        code="air-cold",
        name="Air too cold",
        strength="owner",
        source=_SHEET,
        by_sheet=True,
    ),
    Rule(
        code="air-hot",
        name="Air too hot",
        strength="owner",
        source=_SHEET,
        by_sheet=True,
    ),
    Rule(
        code="surface-cold",
        name="Hull too cold",
        strength="owner",
        source=_SHEET,
        by_sheet=True,
    ),
    Rule(
        code="surface-hot",
        name="Hull too hot",
        strength="owner",
        source=_SHEET,
        by_sheet=True,
    ),
    Rule(
        code="spread",
        name="Hull too near the dew point",
        strength="owner",
        source="The product's sheet; 5 °F is common practice (MIL-HDBK-1110, 9.6.6).",
        by_sheet=True,
    ),
    Rule(
        code="wet-hull",
        name="Hull still wet",
        strength="lead",
        source=f"{_COMMON} Wiped and blown dry she counts as dry.",
    ),
    Rule(
        code="humid",
        name="Air too humid",
        strength="owner",
        source="The product's sheet; up to 85 % is common practice.",
        by_sheet=True,
    ),
    Rule(
        code="dry-air",
        name="Air too dry",
        strength="owner",
        source=_SHEET,
        by_sheet=True,
    ),
    Rule(code="gust", name="Gusts", strength="owner", source=_SHEET, by_sheet=True),
    Rule(code="wind", name="Wind", strength="owner", source=_SHEET, by_sheet=True),
    Rule(
        code="roof-down",
        name="Roof must be down",
        strength="wall",
        source="The gust the roof's maker names, as it is entered on the roof's page.",
    ),
    Rule(
        code="overspray",
        name="Overspray",
        strength="owner",
        source="Our assumption, a setting; the least all round is common practice.",
        least="the clear distance all round",
    ),
    Rule(code="will-not-set", name="Will not set", strength="wall", source=_SHEET),
    Rule(
        code="rain-soon",
        name="Rain before the film is rain-safe",
        strength="owner",
        source="Our assumption, a setting; nobody may go below an hour.",
        least="the least margin before rain",
    ),
    Rule(
        code="dew-before-safe",
        name="Dew before the film is rain-safe",
        strength="owner",
        source=_COMMON,
    ),
)
RULES: Mapping[str, Rule] = MappingProxyType({rule.code: rule for rule in _HOUSE})


def strength(code: str, *, sheet: bool = False, below_least: bool = False) -> str:
    """Who may overrule a rule of the house here.

    Raises:
        KeyError: the house has no such rule.
    """
    return RULES[code].holds_for(sheet=sheet, below_least=below_least)


def source(code: str) -> str:
    """Where a rule comes from; empty where a plugin of somebody else's made it."""
    return RULES[code].source if code in RULES else ""


def walls_first(found: Iterable[J]) -> list[J]:
    """What was found, the strongest first; what is not known behind what is known to be wrong."""
    return sorted(
        found, key=lambda one: (STRENGTHS.index(one.strength), one.code in MISSING)
    )
