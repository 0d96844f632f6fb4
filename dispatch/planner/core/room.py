"""What a walk works in: the van-day as it is, one tried, the best of those tried, what is to be put in."""

import numpy as np

from dispatch.planner.core.shapes import (
    DELAYED,
    JOBS,
    LIKELY,
    MOVERS,
    PARTS,
    PEOPLE,
    ROUTE,
    SEATS,
    SLOT,
    SLOTS,
    STAGES,
    STANDS,
    STOPS,
    TEAMS,
    WAYS,
    Room,
    blank,
)

_i, _f = np.int64, np.float64

ROOM = np.dtype(
    [
        ("asis", SLOT, (SLOTS,)),
        ("tried", SLOT, (SLOTS,)),
        ("best", SLOT, (SLOTS,)),
        ("more", SLOT, (SLOTS,)),
        ("at", _i, (STAGES,)),  # stage to its place in the van-day tried
        ("out", _i, (16,)),  # depart, back, rest of the timing made last
        ("kept", _i, (16,)),  # the same of the best
        ("duty", _i, (TEAMS, 2)),  # of the teams tried: from when until when
        ("hired", _f, (TEAMS,)),  # and what each costs
        ("patience", _f),  # the share of new waiting that is not counted
        ("noise", _f),  # how much dearer luck may make a place, as a share
        ("team", _i, (SEATS + 1,)),
        ("best_team", _i, (SEATS + 1,)),
        ("pool", _i, (PEOPLE,)),
        ("list", _i, (STAGES,)),
        ("jobs", _i, (JOBS + 1,)),
        ("mark", _i, (STAGES,)),
        ("delayed", _i, (DELAYED + 1,)),  # how many van-days wait a while, and which
        ("lacked", _i, (JOBS,)),  # whether a job lacked a stage before the ruin
        ("block", _i, (STOPS,)),
        (
            "turned",
            _i,
            (STAGES, 3),
        ),  # what changes days: stage, van-day, which go together
        ("likely", _i, (LIKELY,)),  # the van-days worth trying, best first
        ("least", _f, (LIKELY,)),  # what each cannot cost less than
        ("grown", _f, (LIKELY,)),  # and what not with one more in the team
        ("sketched", _i, (6,)),  # what the last sketch is for, and found
        ("fit", np.int8, (SLOTS, PARTS)),  # what `fits` said of each place and part
        ("road", _i, (SLOTS,)),  # minutes on the road with the block at each place
        ("far", _i, (SLOTS,)),  # and metres
        ("rank", _f, (LIKELY,)),  # that, blurred
        ("movers", _i, (MOVERS, 2)),  # the trailers tried for a move, after which stand
        (
            "wants",
            _i,
            (2 * STANDS, 3),
        ),  # kind and place of each trailer, a stage for it
        ("ways", _i, (2 * STANDS, WAYS, 3)),  # for each: trailer, stand, by a new move
        (
            "turns",
            _i,
            (2 * STANDS, 4),
        ),  # for each: how many ways, tried, best, its stand
        ("dearer", _f),  # cents that the moves laid now make others dearer
        ("saved", ROUTE, (2 * STANDS,)),  # van-days as they were before those moves
        ("stamps", np.uint64, (2 * STANDS,)),  # and their versions
    ]
)


def new_room() -> Room:
    """Return empty room to work in."""
    room = blank(ROOM)
    room["at"][:] = -1
    return room
