"""The table of walks: flow, width, way, whether it was walked to its end, seconds and keys."""

from collections.abc import Iterator, Mapping, Sequence
from typing import Any

WORDS = {"passed": "yes", "failed": "NO", "error": "NO"}


def lines(stats: Mapping[str, Sequence[Any]], here: str) -> Iterator[str]:
    """Return the table's lines of the reports that a run of pytest has kept by their outcome."""
    rows = sorted(_rows(stats, here))
    if not rows:
        return
    yield ""
    yield f"{'flow':44} {'width':>5} {'by':7} {'walked':6} {'s':>4} {'keys':>5}"
    for flow, width, by, walked, seconds, keys in rows:
        yield f"{flow:44} {-width:5} {by:7} {walked:6} {seconds:4} {keys:5}"
    held = sum(row[3] == "yes" for row in rows)
    yield f"{held} of {len(rows)} walks were walked to their end."


def _rows(
    stats: Mapping[str, Sequence[Any]], here: str
) -> Iterator[tuple[str, int, str, str, int, int]]:
    """Return a row of each walk; its figures are known once its fixtures are taken down."""
    walked = {
        report.nodeid: word
        for outcome, word in WORDS.items()
        for report in stats.get(outcome, ())
    }
    for report in (one for kept in stats.values() for one in kept):
        figures = dict(getattr(report, "user_properties", ())).get("walk")
        if not figures or report.when != "teardown" or here not in report.nodeid:
            continue
        if report.nodeid in walked:  # one that was skipped was not
            width, by, seconds, keys = figures
            yield (
                _flow(report.nodeid),
                -width,
                by,
                walked[report.nodeid],
                seconds,
                keys,
            )


def _flow(nodeid: str) -> str:
    file, name = nodeid.split("::")[0], nodeid.split("::")[-1]
    room = file.rsplit("/", 1)[-1].removeprefix("test_").removesuffix(".py")
    return f"{room}: {name.split('[')[0].removeprefix('test_').replace('_', ' ')}"
