"""Random numbers the search can be repeated with: splitmix64 (Steele, Lea and Flood, 2014)."""

import numpy as np
from numpy.typing import NDArray

from dispatch.planner.core.jit import fast

Dice = NDArray[np.uint64]

_STEP = np.uint64(0x9E3779B97F4A7C15)
_ONE = np.uint64(0xBF58476D1CE4E5B9)
_TWO = np.uint64(0x94D049BB133111EB)
_S30, _S27, _S31, _S11 = np.uint64(30), np.uint64(27), np.uint64(31), np.uint64(11)


@fast
def stamp(dice: Dice) -> np.uint64:
    """Return 64 bits that do not come again."""
    dice[0] += _STEP
    z = dice[0]
    z = (z ^ (z >> _S30)) * _ONE
    z = (z ^ (z >> _S27)) * _TWO
    return z ^ (z >> _S31)


@fast
def roll(dice: Dice) -> float:
    """Return a number in [0, 1)."""
    return (stamp(dice) >> _S11) * (1.0 / 9007199254740992.0)


@fast
def pick(dice: Dice, most: int) -> int:
    """Return a whole number from 0 to most - 1."""
    return int(roll(dice) * most)
