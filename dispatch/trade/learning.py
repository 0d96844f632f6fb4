"""What real minutes teach: the ratio of real to planned, the newest weighing most, never far off."""

from collections.abc import Sequence

# Assumptions: how much the newest weighs, and how far one or two odd days may move an estimate.
_WEIGHT = 0.15
_LEAST, _MOST = 0.6, 2.0


def ratio(newest_first: Sequence[float]) -> float | None:
    """The exponentially weighted median of real over planned, from 0.6 to 2; None where nothing is known.

    Each one older weighs 0.85 of the one after it.
    """
    if not newest_first:
        return None
    weighed = sorted(
        (one, (1 - _WEIGHT) ** age) for age, one in enumerate(newest_first)
    )
    half = sum(weight for _, weight in weighed) / 2
    for one, weight in weighed:
        half -= weight
        if half <= 0:
            return min(_MOST, max(_LEAST, one))
    return min(_MOST, max(_LEAST, weighed[-1][0]))
