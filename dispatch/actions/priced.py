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
