"""A road service on this machine, in both shapes: it works its matrix out of the coordinates it was asked for."""

import json
import threading
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer
from urllib.parse import parse_qs, urlsplit

from dispatch.hooks.values import Spot

Point = tuple[float, float]


@dataclass
class Roads:
    """What the service knows and how it behaves; ``most`` is how many places it takes at once."""

    address: str = ""
    most: int = 400
    cut_off: set[Point] = field(default_factory=set)
    hangs_after: int = 10**6
    status: int = 200
    asked: list[str] = field(default_factory=list)
    closing: threading.Event = field(default_factory=threading.Event)


def seconds(a: Point, b: Point) -> float:
    """One way is not the other: north is uphill."""
    return 60 + 40_000 * (abs(a[1] - b[1]) + max(0.0, b[0] - a[0]) * 2)


def metres(a: Point, b: Point) -> float:
    return 100_000 * (abs(a[0] - b[0]) + abs(a[1] - b[1]))


def point(spot: Spot) -> Point:
    return round(spot.latitude, 6), round(spot.longitude, 6)


def _table(roads: Roads, path: str, query: dict[str, list[str]]) -> object:
    pairs = path.rsplit("/", 1)[1].split(";")
    spots = [(float(p.split(",")[1]), float(p.split(",")[0])) for p in pairs]
    if len(spots) > roads.most:
        return {"code": "TooBig"}
    a, b = (
        [spots[int(i)] for i in query[name][0].split(";")]
        for name in ("sources", "destinations")
    )
    cut = roads.cut_off
    return {
        "code": "Ok",
        "durations": [[None if {x, y} & cut else seconds(x, y) for y in b] for x in a],
        "distances": [[None if {x, y} & cut else metres(x, y) for y in b] for x in a],
    }


def _matrix(roads: Roads, query: dict[str, list[str]]) -> object:
    asked = json.loads(query["json"][0])
    a, b = (
        [(p["lat"], p["lon"]) for p in asked[name]] for name in ("sources", "targets")
    )
    return {
        "units": "kilometers",
        "sources_to_targets": [
            [
                {
                    "from_index": i,
                    "to_index": j,
                    "time": None if {x, y} & roads.cut_off else seconds(x, y),
                    "distance": None if {x, y} & roads.cut_off else metres(x, y) / 1000,
                }
                for j, y in enumerate(b)
            ]
            for i, x in enumerate(a)
        ],
    }


@contextmanager
def serving() -> Iterator[Roads]:
    """Serve for as long as the context lasts."""
    roads = Roads()

    class Handler(BaseHTTPRequestHandler):
        def do_GET(self) -> None:
            roads.asked.append(self.path)
            if len(roads.asked) > roads.hangs_after:
                roads.closing.wait(30)
                return
            parts = urlsplit(self.path)
            query = parse_qs(parts.query)
            if parts.path.startswith("/table/v1/driving/"):
                told = _table(roads, parts.path, query)
            elif parts.path == "/sources_to_targets":
                told = _matrix(roads, query)
            else:
                self.send_error(404)
                return
            body = json.dumps(told).encode()
            self.send_response(roads.status)
            self.send_header("Content-Length", str(len(body)))
            self.end_headers()
            self.wfile.write(body)

        def log_message(self, format: str, *args: object) -> None:
            """Say nothing."""

    server = ThreadingHTTPServer(("127.0.0.1", 0), Handler)
    server.daemon_threads = True
    roads.address = f"http://127.0.0.1:{server.server_port}"
    thread = threading.Thread(target=server.serve_forever, args=(0.02,))
    thread.start()
    try:
        yield roads
    finally:
        roads.closing.set()
        server.shutdown()
        thread.join()
        server.server_close()
