"""One check over a grid of moments."""

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from dispatch.trade import rulebook
from dispatch.trade.sun import Floats
from dispatch.trade.work import Work

Bools = npt.NDArray[np.bool_]
Say = Callable[[int], tuple[str, dict[str, float]]]

# What arithmetic makes of a value that stands at its limit: 60 °F over 58 °F must be a spread of 2 °F.
HAIR = 1e-6


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


def over(code: str, value: Floats, limit: float, say: Say, strength: str) -> Condition:
    """A value that may not lie above a limit; an unknown one does not fail here."""
    return _past(code, value - limit, say, strength)


def under(code: str, value: Floats, limit: float, say: Say, strength: str) -> Condition:
    """A value that may not lie below a limit; an unknown one does not fail here."""
    return _past(code, limit - value, say, strength)


def _past(code: str, by: Floats, say: Say, strength: str) -> Condition:
    with np.errstate(invalid="ignore"):
        return Condition(
            code=code,
            fails=by > HAIR,
            excess=np.nan_to_num(by),
            say=say,
            strength=strength,
        )


def rule(code: str, work: Work) -> str:
    """Who may overrule a rule for a piece of work: nobody, where its product's sheet sets the limit."""
    return rulebook.strength(code, sheet=work.sheet is not None)
