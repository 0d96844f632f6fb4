"""What one team may do on one day, made small: rows worth a visit, bits for their stages, what rules out what."""

from typing import NamedTuple

import numpy as np

from dispatch.planner.floor.jit import fast
from dispatch.planner.floor.shapes import MOST_BITS, Crews, Ground, Ints, Outset, Starts


class Choice(NamedTuple):
    """Rows of `Starts`, and stages by number in this choice; arrays as long as the most there can be."""

    size: Ints  # rows, stages
    rows: Ints
    local: Ints  # a row's stage, by number in this choice
    number: Ints  # a stage's number in this choice, or -1
    place: Ints  # by number
    leave: Ints  # by number
    latest: Ints  # by number: the last start
    bit: Ints  # by number: 0 where there are too many stages for a bit
    shuts: Ints  # by number: bits that a visit rules out


def choice(rows: int, stages: int) -> Choice:
    """Return room for a choice among so many rows of so many stages."""
    per_row = [np.zeros(max(1, rows), np.int64) for _ in range(2)]
    per_stage = [np.zeros(max(1, stages), np.int64) for _ in range(6)]
    return Choice(np.zeros(2, np.int64), *per_row, *per_stage)


@fast
def choose(
    c: Choice, starts: Starts, ground: Ground, crews: Crews, team: int, day: Outset
) -> None:
    """Fill the choice with what the team can reach and gains by."""
    c.number[:] = -1
    rows = stages = 0
    for row in range(len(starts.stage)):
        stage = starts.stage[row]
        if starts.gain[row] <= 0.0 or not crews.able[team, stage]:
            continue
        place, leave = starts.place[row], starts.leave[row]
        dusk = min(starts.shut[row], day.until - ground.minutes[leave, day.home])
        last = min(starts.high[row], dusk - starts.minutes[row])
        if max(starts.low[row], day.since + ground.minutes[day.place, place]) > last:
            continue
        if c.number[stage] < 0:
            c.number[stage] = stages
            c.place[stages], c.leave[stages] = place, leave
            c.latest[stages] = last
            stages += 1
        number = c.number[stage]
        c.latest[number] = max(c.latest[number], last)
        c.rows[rows] = row
        c.local[rows] = number
        rows += 1
    c.size[0], c.size[1] = rows, stages
    _bits(c, starts, ground)


@fast
def _bits(c: Choice, starts: Starts, ground: Ground) -> None:
    """Give each stage a bit while there are bits, and say what each rules out."""
    for number in range(c.size[1]):
        c.bit[number] = np.int64(1) << number if number < MOST_BITS else 0
        c.shuts[number] = 0
    for i in range(c.size[0]):
        stage, number = starts.stage[c.rows[i]], c.local[i]
        for j in range(c.size[0]):
            if ground.never_after[stage, starts.stage[c.rows[j]]]:
                c.shuts[number] |= c.bit[c.local[j]]
