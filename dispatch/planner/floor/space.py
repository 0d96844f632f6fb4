"""Room to price in, used over and over."""

from typing import NamedTuple

import numpy as np

from dispatch.planner.floor.choice import Choice, choice
from dispatch.planner.floor.hopes import Hopes, hopes
from dispatch.planner.floor.labels import Labels, labels
from dispatch.planner.floor.shapes import Ints


class Space(NamedTuple):
    """What one search writes into: labels, ceilings, the team's choice, and lists by stage and minute."""

    labels: Labels
    hopes: Hopes
    choice: Choice
    first: Ints
    queue: Ints
    halt: Ints  # not 0 once somebody asked to stop


def space(rows: int, stages: int, minutes: int) -> Space:
    """Return room for so many rows and stages, and a day of so many minutes."""
    return Space(
        labels(),
        hopes(stages),
        choice(rows, stages),
        np.zeros(max(1, stages), np.int64),
        np.zeros((2, max(0, minutes) + 1), np.int64),
        np.zeros(1, np.int64),
    )
