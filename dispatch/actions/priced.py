"""A mend of a snag with its price, as a value."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime
from typing import Any


@dataclass(frozen=True, kw_only=True)
class Priced:
    """The cheapest change by hand that mends a snag, the cents the week then costs more, and when that was worked out.

    ``ask`` is what does it, as the task kept it; empty where none was found, and ``words`` say so.
    """

    words: str
    cents: int
    at: datetime
    ask: Mapping[str, Any]


@dataclass(frozen=True, kw_only=True)
class Offer:
    """One of several things that may be done about a snag, in words; the owner chooses.

    ``about`` is what a change by hand is worked out and kept for; ``stage`` whose page leads there where none was found;
    ``grade`` what her job may be graded.
    """

    words: str
    about: str = ""
    stage: str = ""
    job: str = ""
    grade: int = 0
    priced: Priced | None = None
