"""The settings' subjects in groups of one page, each told in one line where a phone folds it."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import groupby

from dispatch.actions.setting_subjects import Subject
from dispatch.web.owner.settings_lines import Line

_CARD_MOST = 14
_CHANGED_MOST = 3


@dataclass(frozen=True, kw_only=True)
class Card:
    """A subject with its lines."""

    subject: Subject
    lines: tuple[Line, ...]

    @property
    def shown(self) -> tuple[Line, ...]:
        """What the card shows: every line, of a long card those that were changed."""
        changed = tuple(line for line in self.lines if line.changed)
        return changed if len(self.lines) > _CARD_MOST else self.lines

    @property
    def unshown(self) -> int:
        """How many lines of a long card stand at their default."""
        return len(self.lines) - len(self.shown)


@dataclass(frozen=True, kw_only=True)
class Group:
    """A group: its address on the page, its name, its cards, and what it says in a line."""

    key: str
    name: str
    cards: tuple[Card, ...]
    says: str
    changed: bool


@dataclass(frozen=True, kw_only=True)
class Part:
    """A part of a long subject's form, for one kind of job; without a name it is the whole form."""

    lines: tuple[Line, ...]
    key: str = ""
    name: str = ""
    says: str = ""
    changed: bool = False


def parts(lines: Sequence[Line]) -> tuple[Part, ...]:
    """A form's lines; where there are many, for kinds of job, those of each kind by themselves."""
    kinds = [line.name.split(".") for line in lines]
    if len(lines) <= _CARD_MOST or any(len(names) < 3 for names in kinds):
        return (Part(lines=tuple(lines)),)
    found = groupby(lines, lambda line: line.name.split(".")[1])
    return tuple(_part(key, tuple(rows)) for key, rows in found)


def _part(key: str, lines: tuple[Line, ...]) -> Part:
    name, *_ = lines[0].label.partition(",")
    said = [line.label.removeprefix(f"{name}, ") for line in lines]
    told = [f"{label} {ln.said}" for label, ln in zip(said, lines, strict=True)]
    changed = [t for t, ln in zip(told, lines, strict=True) if ln.changed]
    return Part(
        key=key,
        name=name,
        lines=lines,
        says=f"{len(changed)} changed: {'; '.join(changed)}"
        if changed
        else f"{len(lines)} numbers, none changed: {told[0]}",
        changed=bool(changed),
    )


# Key, name, subjects, and the settings that say most of it.
GROUPS: Sequence[tuple[str, str, tuple[str, ...], tuple[str, ...]]] = (
    (
        "margins",
        "Rain, shade, hull and overspray",
        ("sky", "surface", "drift"),
        ("limits.rain_margin_minutes", "limits.rain_prob_pct", "limits.drift_base_m"),
    ),
    (
        "work",
        "How long work takes",
        ("labour", "shape", "extras", "waits", "learnt"),
        ("extras.turn_minutes", "extras.cloths_minutes", "labour.worth_of_third"),
    ),
    (
        "product",
        "Product and water",
        ("coverage", "supply", "water"),
        ("coverage.oz_per_ft2_coat", "coverage.carry_reserve", "supply.lead_days"),
    ),
    (
        "days",
        "Days, hours and roads",
        ("day", "shifts", "travel", "strain"),
        ("day.break_minutes", "shifts.site_minutes", "travel.km_per_hour"),
    ),
    (
        "plan",
        "Prices, promises and the plan",
        ("prices", "promises", "half_day", "planning", "board"),
        ("prices.free_km", "promises.near_days", "board.promise_spare_minutes"),
    ),
    (
        "messages",
        "Messages",
        ("customers", "crew"),
        (
            "customers.from_clock",
            "customers.until_clock",
            "customers.eve_clock",
        ),
    ),
)
_SPRAY = ("spray.wind_max_ms", "spray.gust_max_ms", "spray.rh_max_pct")


def of(cards: Iterable[Card]) -> list[Group]:
    """The cards in their groups; a subject that no group names stands in none."""
    by_key = {card.subject.key: card for card in cards}
    return [
        _group(key, name, tuple(by_key[one] for one in subjects), heads)
        for key, name, subjects, heads in GROUPS
    ]


def of_the_sky(families: Iterable[Card]) -> str:
    """What the table of each kind of work says in a line: the gun's limits, and what was changed."""
    lines = [(card.subject, line) for card in families for line in card.lines]
    return _says(lines, _SPRAY, "spray, ")


def _group(key: str, name: str, cards: tuple[Card, ...], heads: Sequence[str]) -> Group:
    lines = [(card.subject, line) for card in cards for line in card.lines]
    return Group(
        key=key,
        name=name,
        cards=cards,
        says=_says(lines, heads, ""),
        changed=any(line.changed for _, line in lines),
    )


def _says(
    lines: Sequence[tuple[Subject, Line]], heads: Sequence[str], whose: str
) -> str:
    """How many numbers, and those that were changed; where none was, the ones that say most."""
    many = f"{len(lines)} numbers"
    changed = [(subject, line) for subject, line in lines if line.changed]
    if not changed:
        by_name = {line.name: line for _, line in lines}
        return f"{many}, none changed: {whose}{_row(by_name[one] for one in heads)}"
    told = "; ".join(f"{s.name}, {_row([ln])}" for s, ln in changed[:_CHANGED_MOST])
    more = len(changed) - _CHANGED_MOST
    return f"{many}, {len(changed)} changed: {told}{f'; {more} more' * (more > 0)}"


def _row(lines: Iterable[Line]) -> str:
    return "; ".join(f"{_lower(line.label)} {line.said}" for line in lines)


def _lower(label: str) -> str:
    return f"{label[:1].lower()}{label[1:]}"
