"""Work in a process of its own takes nothing along, and is ended when its time is up."""

import os
import select
import signal
import subprocess
import sys
import threading
from collections.abc import Callable
from dataclasses import replace
from datetime import timedelta
from pathlib import Path
from time import monotonic
from zoneinfo import ZoneInfo

import numpy as np
import pytest

from dispatch.hooks import apart, guard
from dispatch.hooks.guard import Conduct, Outcome
from dispatch.hooks.values import Complaint
from tests.hooks.strangers import FORECAST_ASK, MORNING, forecast, stranger

_NAP = threading.Event().wait


def killed() -> None:
    os.kill(os.getpid(), signal.SIGKILL)


def deaf() -> None:
    """Let nothing end it that can be caught."""
    for number in (signal.SIGTERM, signal.SIGINT, signal.SIGALRM):
        signal.signal(number, signal.SIG_IGN)
    while True:
        try:
            _NAP(60)
        except BaseException:  # noqa: BLE001, S112 - that is the point
            continue


def stopped() -> None:
    os.kill(os.getpid(), signal.SIGSTOP)


def nap() -> None:
    _NAP(60)


def leaves() -> None:
    os._exit(0)


def exits() -> None:
    sys.exit(3)


def open_files() -> int:
    return len(list(Path("/proc/self/fd").iterdir()))


def children() -> set[str]:
    """Return the processes that any thread of this one has started and not yet buried."""
    lists = Path("/proc/self/task").glob("*/children")
    return {pid for one in lists for pid in one.read_text().split()}


def alive(pid: int) -> bool:
    try:
        state = Path(f"/proc/{pid}/stat").read_text().rpartition(")")[2].split()[0]
    except FileNotFoundError:
        return False
    return state != "Z"


def test_what_it_returns_comes_back() -> None:
    assert apart.within(5, lambda: {"hours": [1, None]}) == {"hours": [1, None]}


def test_a_long_answer_comes_back_whole() -> None:
    assert len(apart.within(5, lambda: b"x" * 3_000_000)) == 3_000_000


def test_it_works_in_a_process_of_its_own() -> None:
    touched: list[int] = []
    assert apart.within(5, lambda: touched.append(1) or os.getpid()) != os.getpid()
    assert touched == []


@pytest.mark.parametrize("work", [nap, deaf, stopped])
def test_work_that_does_not_end_is_ended(work: Callable[[], object]) -> None:
    began = monotonic()
    with pytest.raises(
        apart.Ended, match=r"did not answer within 0\.3 s and was ended"
    ):
        apart.within(0.3, work)
    # It would nap for a minute.
    assert monotonic() - began < 20


@pytest.mark.parametrize("work", [killed, leaves, exits])
def test_a_process_that_dies_is_told(work: Callable[[], object]) -> None:
    with pytest.raises(apart.Ended, match="ended its process before it answered"):
        apart.within(5, work)


def test_what_cannot_be_handed_over_is_told() -> None:
    with pytest.raises(apart.Ended):
        apart.within(5, lambda: lambda: None)


class Sleeper(str):
    """A text that has whoever reads it sleep."""

    def __reduce__(self) -> tuple[object, ...]:
        return select.select, ([], [], [], 60)


class Ender(str):
    """A text that ends whoever reads it."""

    def __reduce__(self) -> tuple[object, ...]:
        return os._exit, (7,)


class Opener(str):
    """A text that runs what it likes, by way of what a zone is read by."""

    def __reduce__(self) -> tuple[object, ...]:
        return getattr, (timedelta, "max")


@pytest.mark.parametrize("kind", [Sleeper, Ender, Opener])
def test_an_answer_does_nothing_to_whoever_reads_it(kind: type[str]) -> None:
    began = monotonic()
    with pytest.raises(apart.Ended, match="no value of the socket"):
        apart.within(5, lambda: replace(forecast(), keep=kind("x")))
    assert monotonic() - began < 20


def test_moments_of_a_zone_and_numbers_of_numpy_come_back() -> None:
    zone = ZoneInfo("America/New_York")
    answer = replace(forecast(air_c=np.float64(15)), issued_at=MORNING.astimezone(zone))
    assert apart.within(5, lambda: answer) == answer


def test_more_than_any_answer_may_be_is_not_read() -> None:
    with pytest.raises(apart.Ended, match="cannot be read"):
        apart.within(5, lambda: bytes(2**25))


def test_what_it_started_is_ended_with_it(tmp_path: Path) -> None:
    note = tmp_path / "pid"

    def start_another() -> None:
        other = subprocess.Popen(
            [sys.executable, "-c", "input()"], stdin=subprocess.PIPE
        )
        note.write_text(str(other.pid))
        _NAP(60)

    with pytest.raises(apart.Ended):
        apart.within(1.5, start_another)
    until = monotonic() + 15
    while alive(int(note.read_text())) and monotonic() < until:
        _NAP(0.02)
    assert not alive(int(note.read_text()))


def test_no_process_and_no_pipe_is_left_behind() -> None:
    before, running = open_files(), children()
    for _ in range(5):
        apart.within(5, lambda: 1)
        with pytest.raises(apart.Ended):
            apart.within(0.05, lambda: _NAP(60))
    # Fewer, where what an earlier test left was cleared up meanwhile.
    assert open_files() <= before
    assert children() <= running


def ask(monkeypatch: pytest.MonkeyPatch, does: Callable[..., object]) -> Outcome:
    monkeypatch.setattr(guard, "LIMIT_S", 0.5)
    one = stranger(monkeypatch, does)
    return guard.call_apart(
        one, {}, "forecast", FORECAST_ASK, now=MORNING, conduct=Conduct()
    )


def complain(ask: object) -> object:
    raise Complaint("the source is away; try later.")


def test_a_good_answer_comes_through_the_guard(monkeypatch: pytest.MonkeyPatch) -> None:
    assert ask(monkeypatch, lambda ask: forecast()) == Outcome(answer=forecast())


@pytest.mark.parametrize(
    ("does", "told", "untouched"),
    [
        (lambda ask: _NAP(60), "Plugin stranger did not answer within 0.5 s", False),
        (lambda ask: killed(), "Plugin stranger ended its process before it", False),
        (lambda ask: os._exit(0), "Plugin stranger ended its process before", False),
        (lambda ask: sys.exit(3), "Plugin stranger failed with SystemExit: 3", False),
        (complain, "Plugin stranger cannot answer: the source is away", True),
        (
            lambda ask: forecast(wind_ms=float("nan")),
            "Plugin stranger gave an answer that cannot be used: wind_ms is nan",
            False,
        ),
        (
            lambda ask: bytearray(2 * apart.MOST_BYTES),
            "Plugin stranger failed with MemoryError",
            False,
        ),
        (
            lambda ask: (0,) * 10**7,
            "tuple where ForecastAnswer is wanted",
            False,
        ),
    ],
)
def test_a_hostile_plugin_gets_a_strike_and_a_sentence(
    monkeypatch: pytest.MonkeyPatch,
    does: Callable[..., object],
    told: str,
    untouched: bool,
) -> None:
    began = monotonic()
    outcome = ask(monkeypatch, does)
    assert monotonic() - began < 30
    assert told in outcome.fault
    assert outcome.answer is None
    assert outcome.untouched is untouched
    assert outcome.conduct.strikes == (MORNING,)


def test_three_that_are_late_rest_it_and_it_is_not_called_again(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    calls = tmp_path / "calls"

    def late(ask: object) -> object:
        with calls.open("a") as note:
            note.write("x")
        return _NAP(60)

    monkeypatch.setattr(guard, "LIMIT_S", 0.3)
    one, conduct = stranger(monkeypatch, late), Conduct()
    for minute in range(5):
        now = MORNING + timedelta(minutes=minute)
        conduct = guard.call_apart(
            one, {}, "forecast", FORECAST_ASK, now=now, conduct=conduct
        ).conduct
    assert calls.read_text() == "xxx"
    assert conduct.resting_until == MORNING + timedelta(minutes=2) + guard.REST


def test_a_call_in_a_process_of_its_own_is_cheap(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setattr(guard, "LIMIT_S", 5.0)
    one = stranger(monkeypatch, lambda ask: forecast())
    began = monotonic()
    for _ in range(20):
        guard.call_apart(
            one, {}, "forecast", FORECAST_ASK, now=MORNING, conduct=Conduct()
        )
    # A fork, not the second and more that a start of Python with all of the house takes.
    assert (monotonic() - began) / 20 < 1
