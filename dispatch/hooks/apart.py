"""Work in a process of its own, which is ended when its time is up."""

import contextlib
import os
import pickle
import resource
import signal
from collections.abc import Callable, Iterator, Sequence
from multiprocessing.connection import Connection, Pipe
from pathlib import Path
from typing import NoReturn, TypeVar, cast

from dispatch.hooks import plain

Result = TypeVar("Result")
_GRACE_S = 1.0
MOST_BYTES = 2**30
# Far more than the longest answer that is taken.
_MOST_ANSWER_BYTES = 2**24


class Ended(Exception):  # noqa: N818 - how the work came to nothing
    """The work did not come to its end; the text says how, for a sentence that begins with who did it."""


def within(seconds: float, work: Callable[[], Result]) -> Result:
    """Do work in a forked process and hand back what it returned: values of the socket and plain ones, no others.

    Nothing the work does to its process reaches this one, and nothing of it lives on: it is killed with
    everything it started in its group, at the latest when the seconds are over. It may take 1 GiB of
    memory more than this one has, and must neither use nor close a connection it inherits.

    Raises:
        Ended: it did not return in time, its process died, or what it returned cannot be handed over.
    """
    (result,) = each(seconds, (work,))
    if isinstance(result, Ended):
        raise result
    return result


def each(
    seconds: float, works: Sequence[Callable[[], Result]]
) -> tuple[Result | Ended, ...]:
    """As ``within``, one after another, with the seconds for each; one that is ended does not keep the next from its turn."""
    results: list[Result | Ended] = []
    while len(results) < len(works):
        results += _in_one(seconds, works[len(results) :])
    return tuple(results)


def _in_one(
    seconds: float, works: Sequence[Callable[[], Result]]
) -> Iterator[Result | Ended]:
    """Do works in one process, up to the first that is ended."""
    reader, writer = Pipe(duplex=False)
    child = os.fork()
    if child == 0:
        _work(works, writer, seconds)
    writer.close()
    try:
        for _ in works:
            yield _returned(reader, seconds)
    except Ended as ended:
        yield ended
    finally:
        reader.close()
        _end(child)


def _work(
    works: Sequence[Callable[[], object]], writer: Connection, seconds: float
) -> NoReturn:
    """The child's whole life; it leaves without unwinding what it inherited."""
    try:
        os.setpgid(0, 0)
        for number in (signal.SIGALRM, signal.SIGTERM, signal.SIGINT):
            signal.signal(number, signal.SIG_DFL)
        # Should the parent be killed meanwhile, this ends what nobody waits for.
        signal.setitimer(signal.ITIMER_REAL, seconds * len(works) + _GRACE_S)
        _bound_memory()
        for work in works:
            writer.send(work())
    finally:
        os._exit(0)


def _bound_memory() -> None:
    """Let it take so much more than it inherited, where the system tells how much that is."""
    with contextlib.suppress(OSError, ValueError):
        pages = int(Path("/proc/self/statm").read_text().split()[0])
        most = pages * resource.getpagesize() + MOST_BYTES
        resource.setrlimit(resource.RLIMIT_AS, (most, most))


def _returned(reader: "Connection", seconds: float) -> Result:  # type: ignore[type-var]
    if not reader.poll(seconds):
        raise Ended(f"did not answer within {seconds:g} s and was ended.")
    try:
        return cast("Result", plain.read(reader.recv_bytes(_MOST_ANSWER_BYTES)))
    except EOFError as error:
        raise Ended("ended its process before it answered.") from error
    except pickle.UnpicklingError as error:
        raise Ended(f"answered what cannot be read: {error}.") from error
    except Exception as error:
        raise Ended(
            f"answered what cannot be read ({type(error).__name__})."
        ) from error


def _end(child: int) -> None:
    """Kill the child with everything it started, and let it go."""
    with contextlib.suppress(ProcessLookupError, PermissionError):
        os.killpg(child, signal.SIGKILL)
    with contextlib.suppress(ProcessLookupError):
        os.kill(child, signal.SIGKILL)
    with contextlib.suppress(ChildProcessError):
        os.waitpid(child, 0)
