"""Gelcoat repairs on a boat that is to be sprayed: when their filling becomes a visit of its own."""

from collections.abc import Mapping

# An assumption: more medium repairs than this do not fit beside the rest of a day's preparation.
_MOST_MEDIUM = 4


def own_visit(counts: Mapping[str, int]) -> bool:
    """Whether repairs, counted as S, M and L, are filled on a day before the rest of the preparation.

    A large fill kicks overnight (common practice), so nothing that wets or sands it may follow that day.
    """
    return counts.get("L", 0) > 0 or counts.get("M", 0) > _MOST_MEDIUM
