"""The arrays of the search: what is given, the week in the making, and room to work in.

Every number is a whole minute from the horizon's start, an index, or cents (floats). -1 is none.
"""

from typing import Annotated, Any

import numpy as np
from numpy.typing import NDArray

STAGES = 4096
JOBS = 1024
PLACES = 1100
PEOPLE = 256
VANS = 128
TRAILERS = 64
LINKS = 16384
SPANS = 65536
STOPS = 48  # the most stops of a van-day
SEATS = 8  # the most people in a van that the search uses
DAYS = 14
SKILLS = 32
SUPPLIES = 6
BITS = 62  # the most different skills at a level that bits tell
STANDS = 4  # the most kinds of trailer one stage needs
CHAIN = 40  # the most places a trailer stands at in one horizon
GUESTS = 256  # the most placed stages that one trailer serves
SLOTS = STOPS + 8
PARTS = 12  # the most parts of a block whose places are remembered
WAYS = 24  # the most ways to have one kind of trailer at a place
LIKELY = 40  # the most van-days with stops that a block is tried in
NEAREST = 3  # trailers of a kind that a last move is tried with
MOVERS = NEAREST + 5  # and the moves put between two others that are tried
DELAYED = 6  # the most van-days that wait a while at once
TEAMS = 8  # the teams of one size remembered as tried
FAR = 1 << 40

_i, _f = np.int64, np.float64
DAY = np.dtype([("opens", _i), ("closes", _i), ("rest_from", _i), ("rest_to", _i)])
STAGE = np.dtype(
    [
        ("job", _i),
        ("place", _i),
        ("variant", _i),
        ("extra", _i),
        ("boat", _i),
        ("pausable", _i),
        ("hold", _i),  # a lag
        ("drop", _f),
        ("pin", _i),
        ("told", _i),
        ("told_day", _i),
        ("quickest", _i),
        ("block", _i),  # the first stage of those of one van-day
        ("first", _i),  # stage must be done before the job counts: place in the order
        ("wants", _i),  # the same bits: somebody of the team can
        ("counts", _i),  # whether those bits do not tell all it needs
        ("bars", _i),  # whether anybody is barred from it
        ("needs", _i, (2,)),
        ("before", _i, (2,)),
        ("then", _i, (2,)),
        ("mates", _i, (2,)),
        ("stays", _i, (2,)),
        ("risks", _i, (2,)),
        ("minutes", _i, (SEATS + 1,)),
        ("supplies", _i, (SUPPLIES,)),
    ]
)
NEED = np.dtype([("skill", _i), ("level", _i), ("count", _i)])
LINK = np.dtype([("stage", _i), ("low", _i), ("high", _i), ("same", _i)])
STAY = np.dtype([("kind", _i), ("lag", _i)])
SPAN = np.dtype([("start", _i), ("end", _i)])
PRICED = np.dtype([("start", _i), ("end", _i), ("cents", _f)])
LAG = np.dtype([("flat", _i), ("rows", _i, (2,))])
STEP = np.dtype([("start", _i), ("end", _i), ("minutes", _i)])
PERSON = np.dtype(
    [
        ("rate", _f),  # cents a minute
        ("regular", _i),
        ("driver", _i),
        ("not_alone", _i),
        ("on", _i, (DAYS,)),
        ("off", _i, (DAYS,)),
        ("level", _i, (SKILLS,)),
        ("can", _i),  # a bit for each skill at a level that stages need
    ]
)
VAN = np.dtype(
    [
        ("base", _i),
        ("seats", _i),
        ("tows", _i),
        ("day_cents", _f),
        ("metre_cents", _f),
        ("twin", _i),  # the first van just like it
        ("on", _i, (DAYS,)),
        ("off", _i, (DAYS,)),
        ("carries", _i, (SUPPLIES,)),
    ]
)
TRAILER = np.dtype(
    [
        ("kind", _i),
        ("towed", _i),
        ("hook", _i),
        ("percent", _i),
        ("place", _i),
    ]
)
JOB = np.dtype(
    [
        ("promise", _i),
        ("late", _f),  # cents a minute
        ("finish", _f),
        ("unfinished", _f),
        ("variants", _i),
        ("stages", _i, (2,)),
    ]
)
ROUTE = np.dtype(
    [
        ("count", _i),
        ("size", _i),
        ("depart", _i),
        ("back", _i),
        ("rest", _i),
        ("held", _i),
        ("lock", _i),  # 0 free, 1 under way, 2 closed
        ("taken", _i),  # start of a break already fixed
        ("paid", _i),
        ("other", _f),  # van, risk and moved cents
        ("work", _i),  # minutes at its stops, without a break
        ("road", _i),  # minutes of driving between them, and from and to base
        ("metres", _i),
        ("kept", _i),  # stops on the day that people were told
        ("team", _i, (SEATS,)),
        ("stop", _i, (STOPS,)),
        ("start", _i, (STOPS,)),
        ("end", _i, (STOPS,)),
    ]
)
SEEN = np.dtype(
    [
        ("route", _i),
        ("start", _i),
        ("end", _i),
        ("held", _i),
        ("stands", _i),
        ("trailer", _i, (STANDS,)),
        ("number", _i, (STANDS,)),
    ]
)
CHAINED = np.dtype(
    [
        ("count", _i),  # of numbers in use; stand 0 is where it stood at first
        ("last", _i),
        ("place", _i, (CHAIN,)),  # -1 for a number not in use
        ("prior", _i, (CHAIN,)),
        ("next", _i, (CHAIN,)),
        ("rank", _i, (CHAIN,)),  # how many stands come before
        ("route", _i, (CHAIN,)),
        ("start", _i, (CHAIN,)),
        ("end", _i, (CHAIN,)),
        ("many", _i),  # placed stages that it serves, and which
        ("guests", np.int16, (GUESTS,)),
    ]
)
SLOT = np.dtype(
    [
        ("stop", _i),
        ("origin", _i),  # where the van must come to
        ("site", _i),  # and where the stop leaves it
        ("minutes", _i),
        ("drive", _i),
        ("low", _i),
        ("high", _i),
        ("tied", _i),
        ("open", _i),  # has neighbours outside the van-day to be looked at
        ("floor", _i),
        ("start", _i),
        ("end", _i),
        ("soon", _i),  # the times as soon as possible, without a break
        ("soon_end", _i),
        ("last", _i),  # no start can be later
    ]
)

GIVEN = np.dtype(
    [
        ("n_days", _i),
        ("n_stages", _i),
        ("n_jobs", _i),
        ("n_people", _i),
        ("n_vans", _i),
        ("n_trailers", _i),
        ("now", _i),
        ("end", _i),
        ("rest", _i),
        ("rest_after", _i),
        ("day_cents", _f),
        ("shift_cents", _f),
        ("shift_minute", _f),
        ("tolerance", _i),
        ("told", _i),
        ("pins", _i),
        ("days", DAY, (DAYS,)),
        ("stages", STAGE, (STAGES,)),
        ("needs", NEED, (LINKS,)),
        ("before", LINK, (LINKS,)),
        ("then", LINK, (LINKS,)),
        ("mates", _i, (SPANS,)),
        ("stays", STAY, (LINKS,)),
        ("risks", PRICED, (SPANS,)),
        ("windows", SPAN, (SPANS,)),
        ("window_at", _i, (STAGES * DAYS + 1,)),  # of stage * days + day
        ("lags", LAG, (LINKS,)),
        ("steps", STEP, (SPANS,)),
        ("people", PERSON, (PEOPLE,)),
        ("vans", VAN, (VANS,)),
        ("trailers", TRAILER, (TRAILERS,)),
        ("jobs", JOB, (JOBS,)),
        ("order", _i, (STAGES,)),  # each job's stages, earlier ones first
        ("cheapest", _i, (PEOPLE,)),  # people by their rate
        ("drive", np.int32, (PLACES, PLACES)),
        ("metres", np.int32, (PLACES, PLACES)),
        ("near", np.int16, (PLACES, VANS)),  # vans by the way from their base
        ("apart", np.int8, (PEOPLE, PEOPLE)),
        ("barred", np.int8, (STAGES, PEOPLE)),
        ("fits", np.int8, (STAGES, VANS)),  # gear, supplies, seats, pin
    ]
)

# The week in the making: route r is van r % vans on day r // vans.
WEEK = np.dtype(
    [
        ("n_routes", _i),
        ("n_stages", _i),
        ("n_trailers", _i),
        ("n_people", _i),
        ("n_days", _i),
        ("n_jobs", _i),
        ("dice", np.uint64, (1,)),
        ("routes", ROUTE, (DAYS * VANS,)),
        ("version", np.uint64, (DAYS * VANS,)),  # a new one at each change of a van-day
        ("seen", SEEN, (STAGES,)),
        ("chains", CHAINED, (TRAILERS,)),
        ("paid", _i, (PEOPLE,)),
        ("busy", np.int8, (DAYS, PEOPLE)),
        ("chosen", _i, (JOBS,)),
    ]
)

# What a walk tells while it goes on: cents of the week it is at, and of the best it saw; and is told.
SCORE = np.dtype([("now", _f), ("least", _f), ("halt", _f)])

# A record, by the name of its type, or a row of one; the compiler knows its fields.
Given = Annotated[Any, "given"]
Week = Annotated[Any, "week"]
Room = Annotated[Any, "room"]
Score = Annotated[Any, "score"]
Rows = Any
Ints = NDArray[np.int64]
Span = tuple[int, int]
Way = tuple[int, int, bool]  # where the break falls, the day, whether it is under way
Split = tuple[int, int, int]  # how many of a block go before which stop, the rest where
Where = tuple[int, int, int]  # the stops there are, the van-day, its day

# Where `out` and `kept` hold what.
DEPART, BACK, REST, OPENS, CLOSES, LATE_STOP, LATE_FLOOR = range(7)
SIZE, AT_ROUTE, COUNT = 7, 8, 9  # of what is kept
MOVE, MOVE_TOO = 10, 14  # the moves being undone
ALONE = 8  # the van-day that alone may be tried, plus one; 0 for any
ONLY = 12  # the day that alone may be tried, plus one; 0 for any
DARING = 13  # whether jobs go in though each by itself makes the week dearer
SINCE = 15  # no van-day that is timed departs sooner
TURNED = 7  # how many stages are to go in again on another day
CALM = 11  # whether starts with a risk, or far from what was told, are passed over


def blank(dtype: np.dtype[Any]) -> Any:  # noqa: ANN401 - a record
    """Return one record of zeros."""
    return np.zeros(1, dtype)[0]
