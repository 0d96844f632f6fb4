"""A trailer's chain: the stands it has in the week, each come to by a move from the one before."""

from dispatch.planner.core.jit import fast
from dispatch.planner.core.lags import trailer_of
from dispatch.planner.core.shapes import CHAIN, Rows, Week


@fast
def number_of(stop: int) -> int:
    """Return the number of the stand that a move comes to."""
    return (-1 - stop) % CHAIN


@fast
def comes_to(week: Week, stop: int) -> int:
    """Return the place where a move ends."""
    return week.chains[trailer_of(stop)].place[number_of(stop)]


@fast
def comes_from(week: Week, stop: int) -> int:
    """Return the place where a move begins."""
    chain = week.chains[trailer_of(stop)]
    return chain.place[chain.prior[number_of(stop)]]


@fast
def link(chain: Rows, after: int, place: int) -> int:
    """Put a stand after another, nobody moving there yet; return its number, -1 for no room."""
    number = 1
    while number < chain.count and chain.place[number] >= 0:
        number += 1
    if number >= CHAIN:
        return -1
    relink(chain, number, after, place)
    return number


@fast
def relink(chain: Rows, number: int, after: int, place: int) -> None:
    """Put a stand of that number after another."""
    then = chain.next[after]
    chain.count = max(chain.count, number + 1)
    chain.place[number], chain.route[number] = place, -1
    chain.prior[number], chain.next[number] = after, then
    chain.next[after] = number
    if then >= 0:
        chain.prior[then] = number
    else:
        chain.last = number
    _rank(chain, number)


@fast
def unlink(chain: Rows, number: int) -> None:
    """Take a stand away; what followed it follows the one before."""
    prior, then = chain.prior[number], chain.next[number]
    chain.next[prior] = then
    if then >= 0:
        chain.prior[then] = prior
        _rank(chain, then)
    else:
        chain.last = prior
    chain.place[number], chain.route[number] = -1, -1
    while chain.place[chain.count - 1] < 0:
        chain.count -= 1


@fast
def _rank(chain: Rows, number: int) -> None:
    while number >= 0:
        chain.rank[number] = chain.rank[chain.prior[number]] + 1
        number = chain.next[number]
