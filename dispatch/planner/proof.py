"""Proves beside a build, in a thread of its own, what no plan can cost less than; ends it when nothing is left to save."""

import os
from threading import Event, Thread
from typing import TYPE_CHECKING

from dispatch.planner.build import Build

if TYPE_CHECKING:
    from dispatch.planner.solve.floor import Floor

# Where every core walks, proving begins after this share of the time.
_LAST = 0.8
_PAUSE_SECONDS = 0.05
_FAREWELL_SECONDS = 0.15
_EVER = float("inf")


class Proof:
    """Raises a build's bound; `with Proof(build, workers=n):` around its run."""

    def __init__(self, build: Build, *, workers: int) -> None:
        self.build = build
        self.floor: Floor | None = None
        spare = len(os.sched_getaffinity(0)) > workers
        self.begins_at = 0.0 if spare else _LAST
        self.over = Event()
        self.thread = Thread(target=self._run, daemon=True)

    def __enter__(self) -> "Proof":
        """Begin beside the build."""
        self.thread.start()
        return self

    def __exit__(self, *_: object) -> None:
        """End at once, and wait a moment for it."""
        self.over.set()
        if self.floor is not None:
            self.floor.halt()
        self.thread.join(_FAREWELL_SECONDS)

    def best(self) -> bool:
        """Whether the best plan so far costs no more than is proven of every plan."""
        best = self.build.best
        return best is not None and best.cost["total"] <= self.build.bound

    def _run(self) -> None:
        while self.build.best is None or self.build.along() < self.begins_at:
            if self.over.wait(_PAUSE_SECONDS):
                return
        # What proves loads a compiler and a solver: beside the search, not before it.
        from dispatch.planner.solve.floor import Floor  # noqa: PLC0415

        floor = self.floor = Floor(self.build.problem)

        def enough() -> bool:
            """Hand on what is proven so far; whether to stop."""
            self.build.bound = max(self.build.bound, floor.cents)
            return self.over.is_set() or self.best()

        floor.learn(self.build.best.van_days)
        floor.improve(_EVER, enough)
        enough()
