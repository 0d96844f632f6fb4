"""How much of a product that sets in the pot may be mixed at once: no more than is laid while it can be used."""

from dataclasses import dataclass


@dataclass(frozen=True, kw_only=True)
class Laying:
    """A visit that lays a mixed product: millilitres of all coats, minutes a coat takes, minutes between coats."""

    product_ml: float
    coats: int
    coat_minutes: float
    between_minutes: float

    def __post_init__(self) -> None:
        if not (self.coats >= 1 and self.coat_minutes > 0 and self.product_ml > 0):
            raise ValueError(
                "A visit lays at least one coat, in some time, of some product."
            )

    @property
    def minutes(self) -> float:
        """From the first stroke to the last, the waits between coats included."""
        return self.coats * self.coat_minutes + (self.coats - 1) * self.between_minutes


@dataclass(frozen=True, kw_only=True)
class Batch:
    """The most to mix at once, millilitres, and how much of the visit that is: ``visit``, ``coat`` or ``part``."""

    ml: float
    lasts: str


def batch(laying: Laying, pot_minutes: float) -> Batch:
    """The largest batch that is used up within the pot life: all coats, else one coat, else a part of one.

    Raises:
        ValueError: the pot life is no time at all, or not known.
    """
    if not pot_minutes > 0:
        raise ValueError("A pot life is longer than nought minutes.")
    coat_ml = laying.product_ml / laying.coats
    if pot_minutes >= laying.minutes:
        return Batch(ml=laying.product_ml, lasts="visit")
    if pot_minutes >= laying.coat_minutes:
        return Batch(ml=coat_ml, lasts="coat")
    return Batch(ml=coat_ml * pot_minutes / laying.coat_minutes, lasts="part")
