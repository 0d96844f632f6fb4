"""Runs the planner in a process of its own, watches it, and judges what it gives."""

import json
import subprocess
import sys
import tempfile
import threading
import time
from collections.abc import Callable, Iterator, Mapping
from contextlib import contextmanager, suppress
from pathlib import Path
from typing import IO, Any

from dispatch.actions.errors import Refused
from dispatch.planner.plan import InvalidPlan, read_plan
from dispatch.planner.problem import InvalidProblem
from dispatch.planner.read import read_problem
from dispatch.planner.rules import judge as judge_plan

Week = Mapping[str, Any]
GRACE_SECONDS = 30.0
# What a first start may take to compile the search, on a slow machine.
COMPILE_SECONDS = 900.0
# Where `dispatch` can be imported from, whatever folder the keeper stands in.
_HOUSE = Path(__file__).resolve().parents[2]


class Unsolved(Refused):
    """The planner gave no plan; the text says why."""


class Planner:
    """The planner's process, ready for a week problem; `started` starts and ends it."""

    def __init__(
        self, process: subprocess.Popen[str], folder: Path, seconds: int
    ) -> None:
        self._process, self._folder, self._seconds = process, folder, seconds

    def solve(
        self,
        problem: Week,
        *,
        on_progress: Callable[[Mapping[str, Any]], None] | None = None,
        should_stop: Callable[[], bool] | None = None,
    ) -> dict[str, Any]:
        """Return the week plan (contract JSON) for a week problem, once, or raise Unsolved.

        `on_progress` gets each progress line; `should_stop` is asked about every 0.2 s, and
        when it says yes the best plan so far is returned.
        """
        self._ask(problem)
        status = _watch(self._process, self._seconds, (on_progress, should_stop))
        errors = (self._folder / "errors").read_text()
        return _read(self._folder / "plan.json", status, errors)

    def _ask(self, problem: Week) -> None:
        if self._process.stdin is None:
            raise Unsolved("The planner cannot be spoken to.")
        # One that has ended already tells why by its status.
        with suppress(BrokenPipeError), self._process.stdin as way_in:
            way_in.write(json.dumps(problem))


@contextmanager
def started(
    *, seconds: int, workers: int, seed: int, start_from: Week | None = None
) -> Iterator[Planner]:
    """Start the planner's process, which gets ready while its week is still being read; end it with the block."""
    with tempfile.TemporaryDirectory(prefix="week-") as name:
        folder = Path(name)
        command = _command(folder, (seconds, workers, seed))
        if start_from is not None:
            (folder / "from.json").write_text(json.dumps(start_from))
            command += ["--from", str(folder / "from.json")]
        with (folder / "errors").open("w") as errors, _running(command, errors) as made:
            yield Planner(made, folder, seconds)


def solve(  # noqa: PLR0913 - the contract of the planner's process
    problem: Week,
    *,
    seconds: int,
    workers: int,
    seed: int,
    on_progress: Callable[[Mapping[str, Any]], None] | None = None,
    should_stop: Callable[[], bool] | None = None,
    start_from: Week | None = None,
) -> dict[str, Any]:
    """Return the week plan for a week problem that has been read, as `Planner.solve` does."""
    effort: dict[str, Any] = {"seconds": seconds, "workers": workers, "seed": seed}
    with started(**effort, start_from=start_from) as planner:
        return planner.solve(problem, on_progress=on_progress, should_stop=should_stop)


def _command(folder: Path, effort: tuple[int, int, int]) -> list[str]:
    names = ("--seconds", "--workers", "--seed")
    options = [x for n, v in zip(names, effort, strict=True) for x in (n, str(v))]
    files = ["-", str(folder / "plan.json")]
    return [sys.executable, "-m", "dispatch.planner", *files, *options]


@contextmanager
def _running(command: list[str], errors: IO[str]) -> Iterator[subprocess.Popen[str]]:
    process = subprocess.Popen(  # noqa: S603 - our own interpreter and module
        command,
        cwd=_HOUSE,
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
        stderr=errors,
        text=True,
    )
    try:
        yield process
    finally:
        if process.poll() is None:
            process.kill()
        process.wait()
        for stream in (process.stdin, process.stdout):
            if stream is not None:
                stream.close()


def _watch(
    process: subprocess.Popen[str],
    seconds: int,
    talk: tuple[Callable[[Mapping[str, Any]], None] | None, Callable[[], bool] | None],
) -> int:
    """Hear the process to its end and return its status; refuse when it takes far longer than it may."""
    on_progress, should_stop = talk
    patience = _Patience(seconds * 1.1 + GRACE_SECONDS)
    listening = (process, patience, on_progress)
    reader = threading.Thread(target=_listen, args=listening, daemon=True)
    reader.start()
    try:
        while not _ended(process):
            if patience.is_over():
                raise Unsolved(
                    f"The planner was stopped: it had {seconds} seconds and did not end."
                )
            if should_stop is not None and should_stop():
                process.terminate()
                should_stop = None
        return process.returncode
    finally:
        if process.poll() is None:
            process.kill()
        reader.join(5)


def _ended(process: subprocess.Popen[str]) -> bool:
    try:
        process.wait(0.2)
    except subprocess.TimeoutExpired:
        return False
    return True


class _Patience:
    """How long the process may still take: its seconds, and before them what compiling takes."""

    def __init__(self, seconds: float) -> None:
        self._seconds = seconds
        self._until = time.monotonic() + seconds
        self._compiling = False

    def hear(self, line: Mapping[str, Any]) -> None:
        """Take a progress line: compiling has time of its own, and then the search has all of its."""
        compiling = line.get("phase") == "compile"
        if compiling or self._compiling:
            lasts = COMPILE_SECONDS if compiling else self._seconds
            self._until = time.monotonic() + lasts
        self._compiling = compiling

    def is_over(self) -> bool:
        """Whether the process has had its time."""
        return time.monotonic() > self._until


def _listen(
    process: subprocess.Popen[str],
    patience: _Patience,
    on_progress: Callable[[Mapping[str, Any]], None] | None,
) -> None:
    for text in process.stdout or ():
        line = json.loads(text)
        patience.hear(line)
        if on_progress is not None:
            on_progress(line)


def _read(plan: Path, status: int, errors: str) -> dict[str, Any]:
    if status == 2:
        raise Unsolved(errors.strip() or "The planner could not read the week problem.")
    if status != 0 or not plan.exists():
        last = errors.strip().splitlines()[-1:] or [f"it ended with status {status}"]
        raise Unsolved(f"The planner failed: {last[0]}.")
    found: dict[str, Any] = json.loads(plan.read_text())
    return found


def judge(problem: Week, plan: Week) -> list[str]:
    """Return a sentence for each rule the plan breaks; Unsolved when either cannot be read."""
    try:
        return judge_plan(read_problem(problem), read_plan(plan))
    except (InvalidProblem, InvalidPlan) as error:
        raise Unsolved(str(error)) from error
