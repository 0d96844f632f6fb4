"""Skills as bits, so that one comparison tells whether a team can do a stage."""

import numpy as np
from numpy.typing import NDArray

from dispatch.planner.core.shapes import BITS, Given

Levels = NDArray[np.int64]


def can(given: Given, levels: Levels) -> int:
    """Return the bits of what somebody with these levels of skill can do: one for each skill at a level that is needed."""
    found = 0
    for bit, (skill, level) in enumerate(_pairs(given)):
        if levels[skill] >= level:
            found |= 1 << bit
    return found


def write_bits(given: Given) -> None:
    """Write what stages need and what people can do as bits, and where bits do not tell all a stage needs."""
    pairs = _pairs(given)
    numbers = {pair: bit for bit, pair in enumerate(pairs)}
    for stage in given["stages"][: int(given["n_stages"])]:
        for need in given["needs"][slice(*stage["needs"])]:
            bit = numbers.get((int(need["skill"]), int(need["level"])))
            if bit is not None:
                stage["wants"] |= 1 << bit
            if bit is None or need["count"] > 1:
                stage["counts"] = 1
    for person in given["people"][: int(given["n_people"])]:
        person["can"] = can(given, person["level"])


def _pairs(given: Given) -> list[tuple[int, int]]:
    """Return the skills at a level that stages need, as many as there are bits."""
    ends = given["stages"]["needs"][: int(given["n_stages"]), 1]
    needs = given["needs"][: int(ends.max(initial=0))]
    rows = zip(needs["skill"].tolist(), needs["level"].tolist(), strict=True)
    return list(dict.fromkeys(rows))[:BITS]
