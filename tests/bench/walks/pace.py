"""How fast this machine is just now beside what it can: what a wait may be excused by."""

import time

BURN_S = 0.2


def slowed() -> float:
    """Return how many times longer work takes than on a machine that does nothing else: 1 at the least."""
    wall, mine = time.perf_counter(), time.process_time()
    while (spent := time.process_time() - mine) < BURN_S:
        sum(range(10_000))
    return max(1.0, (time.perf_counter() - wall) / spent)
