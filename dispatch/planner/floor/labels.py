"""Labels: partial van-days, each the cheapest way so far to be ready at a stage at a minute.

A label costs `cents` when it is ready at `ready` and up to `slack` minutes later; after that every
minute waited is paid. One label rules another out when it costs no more at any minute and forbids less.
"""

from typing import NamedTuple

import numpy as np

from dispatch.planner.floor.jit import fast
from dispatch.planner.floor.shapes import MOST_LABELS, Floats, Ints


class Labels(NamedTuple):
    """All labels of one search, a row each; `used[0]` are in use."""

    used: Ints
    ready: Ints
    slack: Ints
    worked: Ints
    rested: Ints
    stage: Ints
    row: Ints
    parent: Ints
    shut: Ints  # bits of the stages that may not come any more
    cents: Floats
    dead: Ints
    later: Ints  # the next label of the same minute
    beside: Ints  # the next label of the same stage


def labels() -> Labels:
    """Return room for labels; a search uses it over and over."""

    def whole() -> Ints:
        return np.zeros(MOST_LABELS, np.int64)

    return Labels(
        used=np.zeros(1, np.int64),
        ready=whole(),
        slack=whole(),
        worked=whole(),
        rested=whole(),
        stage=whole(),
        row=whole(),
        parent=whole(),
        shut=whole(),
        cents=np.zeros(MOST_LABELS, np.float64),
        dead=whole(),
        later=whole(),
        beside=whole(),
    )


@fast
def rules_out(labels: Labels, a: int, b: int, wage: float, loose: bool) -> bool:
    """Whether label a makes label b needless; loosely, where what a forbids is overlooked."""
    if labels.ready[a] > labels.ready[b] or labels.rested[a] < labels.rested[b]:
        return False
    if labels.shut[a] & ~labels.shut[b] != 0 and not loose:
        return False
    wait = max(0, labels.ready[b] - labels.ready[a] - labels.slack[a])
    if labels.cents[a] + wage * wait > labels.cents[b] + 1e-9:
        return False
    free_a = labels.ready[a] + labels.slack[a]
    free_b = labels.ready[b] + labels.slack[b]
    if labels.cents[a] - wage * free_a > labels.cents[b] - wage * free_b + 1e-9:
        return False
    if labels.rested[a] == 1 or loose:
        return True
    if labels.worked[a] + wait > labels.worked[b]:
        return False
    return labels.worked[a] - free_a <= labels.worked[b] - free_b


@fast
def keep(labels: Labels, new: int, first: Ints, wage: float, loose: bool) -> bool:
    """Put a label among its stage's, unless one there makes it needless; the needless die."""
    stage = labels.stage[new]
    before, at = -1, first[stage]
    while at >= 0:
        following = labels.beside[at]
        if labels.dead[at] == 0 and rules_out(labels, at, new, wage, loose):
            return False
        if labels.dead[at] == 1 or rules_out(labels, new, at, wage, loose):
            labels.dead[at] = 1
            if before < 0:
                first[stage] = following
            else:
                labels.beside[before] = following
        else:
            before = at
        at = following
    labels.beside[new] = first[stage]
    first[stage] = new
    return True
