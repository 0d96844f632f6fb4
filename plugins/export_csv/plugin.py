"""A person's visits as text/csv (RFC 4180)."""

import csv
import io
from collections.abc import Mapping
from zoneinfo import ZoneInfo

from dispatch.hooks.specs import hookimpl
from dispatch.hooks.values import PostedVisit, PublishAsk, Published

COLUMNS = ("person", "start", "end", "hours", "what", "where", "note", "sky", "id")
# A spreadsheet takes a cell that begins so for a formula, and may run it.
_FORMULA = ("=", "+", "-", "@", "\t", "\r")


class ExportCsv:
    """The publish hook as a row a visit."""

    def __init__(self, zone: ZoneInfo) -> None:
        self._zone = zone

    @hookimpl
    def publish(self, ask: PublishAsk) -> Published:
        """Write the visits in order under a row of names; what the sky may not allow is not sure."""
        out = io.StringIO(newline="")
        rows = csv.writer(out, lineterminator="\r\n")
        rows.writerow(COLUMNS)
        rows.writerows(self._row(ask.whose, visit) for visit in ask.visits)
        return Published(
            media_type="text/csv", filename="visits.csv", text=out.getvalue()
        )

    def _row(self, whose: str, visit: PostedVisit) -> list[str]:
        start, end = (
            at.astimezone(self._zone).isoformat(timespec="minutes")
            for at in (visit.span.start, visit.span.end)
        )
        hours = visit.span.length.total_seconds() / 3600
        sky = "allows" if visit.sure else "not sure"
        texts = (visit.title, visit.where, visit.note)
        return [
            _plain(whose),
            start,
            end,
            f"{hours:.2f}",
            *map(_plain, texts),
            sky,
            visit.uid,
        ]


def make(options: Mapping[str, object]) -> ExportCsv:
    """The plugin's object with its option."""
    return ExportCsv(ZoneInfo(str(options["time_zone"])))


def _plain(text: str) -> str:
    """A text that no spreadsheet takes for a formula."""
    return f"'{text}" if text.startswith(_FORMULA) else text
