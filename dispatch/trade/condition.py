"""One check over a grid of moments."""

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from dispatch.trade.sun import Floats

Bools = npt.NDArray[np.bool_]
Say = Callable[[int], tuple[str, dict[str, float]]]


@dataclass(frozen=True, kw_only=True)
class Condition:
    """One check: its code, where it fails, how badly (the worst is told), and the sentence for a moment."""

    code: str
    fails: Bools
    excess: Floats
    say: Say
    strength: str


def always(sentence: str, **numbers: float) -> Say:
    """The same sentence at every moment."""
    return lambda _: (sentence, numbers)
