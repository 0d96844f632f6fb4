"""More workers: the same search from other seeds, each in a process of its own."""

import argparse
import json
import subprocess
import sys
import tempfile
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import Self

from dispatch.planner.plan import InvalidPlan, Plan, read_plan
from dispatch.planner.problem import Problem
from dispatch.planner.rules import judge

SPREAD = 1_000_003
GRACE_SECONDS = 20


@dataclass(frozen=True, kw_only=True, slots=True)
class Mate:
    """One worker: its process and where it writes its plan."""

    process: subprocess.Popen[bytes]
    plan: Path


class Crew:
    """Starts `args.workers` less one workers; stops whatever still runs when left."""

    def __init__(self, args: argparse.Namespace) -> None:
        self.args = args
        self.mates: list[Mate] = []

    def __enter__(self) -> Self:
        self.folder = tempfile.TemporaryDirectory(prefix="week-")
        for i in range(1, max(1, self.args.workers)):
            self.mates.append(self._start(i))
        return self

    def __exit__(self, *_: object) -> None:
        for mate in self.mates:
            if mate.process.poll() is None:
                mate.process.kill()
            mate.process.wait()
        self.folder.cleanup()

    def _start(self, number: int) -> Mate:
        args, out = self.args, Path(self.folder.name) / f"{number}.json"
        command = [
            sys.executable,
            "-m",
            "dispatch.planner",
            str(args.problem),
            str(out),
        ]
        command += ["--seconds", str(args.seconds), "--workers", "1"]
        command += ["--seed", str(args.seed + number * SPREAD)]
        if args.steps is not None:
            command += ["--steps", str(args.steps)]
        if args.start is not None:
            command += ["--from", str(args.start)]
        process = subprocess.Popen(  # noqa: S603 - our own interpreter and module
            command, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL
        )
        return Mate(process=process, plan=out)

    def best(self, problem: Problem, plan: Plan, stop: Callable[[], bool]) -> Plan:
        """Return the cheapest valid plan of all, the first worker's on a tie."""
        for mate in self.mates:
            if stop():
                mate.process.terminate()
            other = self._plan(mate)
            cheaper = other is not None and other.cost["total"] < plan.cost["total"]
            if other is not None and cheaper and not judge(problem, other):
                plan = other
        return plan

    @staticmethod
    def _plan(mate: Mate) -> Plan | None:
        try:
            mate.process.wait(GRACE_SECONDS)
            return read_plan(json.loads(mate.plan.read_text()))
        except (subprocess.TimeoutExpired, OSError, ValueError, InvalidPlan):
            return None
