"""One product over a board's week, as a value."""

from dataclasses import dataclass
from datetime import datetime


@dataclass(frozen=True, kw_only=True)
class StoreLine:
    """Millilitres of one product: in store, needed by visits still to come, and left at the end of each day.

    Cans past their shelf life are not counted. ``first_short`` is when the first visit begins that they do not
    cover, what is carried in case counted in; None where they cover all.
    """

    key: str
    name: str
    start_ml: float
    left_ml: tuple[float, ...]
    needed_ml: float
    reserve_ml: float
    past_ml: float
    not_estimated: tuple[str, ...]
    first_short: datetime | None
