"""Drives as a road service knows them."""

from collections.abc import Iterator, Mapping

from dispatch.hooks import fetch
from dispatch.hooks.specs import hookimpl
from dispatch.hooks.values import Complaint, DrivesAnswer, DrivesAsk, Leg
from plugins.drive_times_http import cells, requests
from plugins.drive_times_http.requests import Part

_SHAPES = {
    "table": (requests.table_url, cells.of_table),
    "sources_to_targets": (requests.matrix_url, cells.of_matrix),
}


class DriveTimesHttp:
    """The drives hook over one service, a part of the matrix a request."""

    def __init__(self, options: Mapping[str, object]) -> None:
        self._options = options
        self._address, self._profile = str(options["address"]), str(options["profile"])
        self._url, self._cells = _SHAPES[str(options["shape"])]
        self._most = int(float(str(options["most_places"])))

    @hookimpl
    def drives(self, ask: DrivesAsk) -> DrivesAnswer:
        """Ask part after part; what came before the service failed stands, where anything came."""
        legs: list[Leg] = []
        try:
            for part in self._told(ask):
                legs += part
        except Complaint:
            if not legs:
                raise
        return DrivesAnswer(legs=tuple(legs))

    def _told(self, ask: DrivesAsk) -> Iterator[list[Leg]]:
        service = fetch.Service(self._options)
        for part in requests.parts(ask.origins, ask.destinations, self._most):
            if _asks_nothing(part):
                continue
            page = service.get(self._url(self._address, self._profile, part))
            yield list(cells.legs(part, self._cells(page.data), ask.start_minutes))


def make(options: Mapping[str, object]) -> DriveTimesHttp:
    """The plugin's object with its options."""
    return DriveTimesHttp(options)


def _asks_nothing(part: Part) -> bool:
    """Whether the only drive of a part is from a place to itself."""
    pairs = {(a.key, b.key) for a in part.origins for b in part.destinations}
    return all(a == b for a, b in pairs)
