"""Who gives way when a day is lost: what must not be broken off is protected first, what earns least goes first."""

from collections.abc import Iterable
from dataclasses import dataclass

# Common practice; the days are an assumption.
_HARD_WITHIN_DAYS = 3.0


@dataclass(frozen=True, kw_only=True)
class Boat:
    """What of a job decides whether it gives way.

    ``wet``: it carries film that is not hard; ``half_sprayed``: one side is coated and another is not;
    ``hard_in_days``: until its hard date, None where it has none; ``bumped``: times this season.
    """

    key: str
    wet: bool = False
    half_sprayed: bool = False
    hard_in_days: float | None = None
    bumped: int = 0
    blocks_yard: bool = False
    bumped_first: bool = False
    cents_per_labour_hour: float = 0.0

    @property
    def due_soon(self) -> bool:
        """Whether a hard date is too near to be moved."""
        return self.hard_in_days is not None and self.hard_in_days <= _HARD_WITHIN_DAYS


@dataclass(frozen=True, kw_only=True)
class Ranked:
    """A job in the order of giving way, and why it stands there; ``by_hand``: only the owner may bump it again."""

    key: str
    reasons: tuple[str, ...]
    by_hand: bool


def order(boats: Iterable[Boat]) -> tuple[Ranked, ...]:
    """Jobs, the first to give way first."""
    return tuple(
        Ranked(key=boat.key, reasons=_reasons(boat), by_hand=boat.bumped > 0)
        for boat in sorted(boats, key=_weight)
    )


def _weight(boat: Boat) -> tuple[bool, bool, bool, bool, bool, bool, float, str]:
    """In the order of what is protected; the less protected first, then what is bumped first, then what earns less."""
    return (
        boat.wet,
        boat.half_sprayed,
        boat.due_soon,
        boat.bumped > 0,
        boat.blocks_yard,
        not boat.bumped_first,
        boat.cents_per_labour_hour,
        boat.key,
    )


def _reasons(boat: Boat) -> tuple[str, ...]:
    said = (
        (boat.wet, "carries wet film: cover it, do not leave it"),
        (boat.half_sprayed, "one side is coated and another is not"),
        (boat.due_soon, f"hard date in {boat.hard_in_days or 0:.0f} days"),
        (
            boat.bumped > 0,
            f"bumped {'once' if boat.bumped == 1 else f'{boat.bumped} times'} already",
        ),
        (boat.blocks_yard, "holds a fixed slot of the yard"),
        (boat.bumped_first, "a kind of job that gives way first"),
        (True, f"${boat.cents_per_labour_hour / 100:.0f} an hour of labour"),
    )
    return tuple(sentence for holds, sentence in said if holds)
