"""What a road service is asked, a part of the matrix at a time, in either shape."""

import json
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from urllib.parse import quote

from dispatch.hooks import fetch
from dispatch.hooks.values import Spot


@dataclass(frozen=True, kw_only=True)
class Part:
    """Some origins and some destinations, asked for at once."""

    origins: tuple[Spot, ...]
    destinations: tuple[Spot, ...]


def wrong(options: Mapping[str, object]) -> str:
    """What is wrong with the options, or nothing."""
    most = float(str(options["most_places"]))
    if most != int(most) or not 2 <= most <= 400:
        return "option most_places must be a whole number from 2 to 400."
    if not str(options["profile"]).isidentifier():
        return "option profile must be one word, as driving."
    return fetch.wrong(options)


def parts(
    origins: Sequence[Spot], destinations: Sequence[Spot], most: int
) -> Iterator[Part]:
    """The whole matrix in parts of at most so many places each."""
    half = most // 2
    for a in range(0, len(origins), half):
        for b in range(0, len(destinations), most - half):
            yield Part(
                origins=tuple(origins[a : a + half]),
                destinations=tuple(destinations[b : b + most - half]),
            )


def table_url(address: str, profile: str, part: Part) -> str:
    """The table shape: coordinates as longitude and latitude in the path, and which are from and to."""
    spots = (*part.origins, *part.destinations)
    where = ";".join(f"{spot.longitude:.6f},{spot.latitude:.6f}" for spot in spots)
    count = len(part.origins)
    sources = ";".join(str(index) for index in range(count))
    targets = ";".join(str(index) for index in range(count, len(spots)))
    return (
        f"{address.rstrip('/')}/table/v1/{profile}/{where}"
        f"?sources={sources}&destinations={targets}&annotations=duration,distance"
    )


def matrix_url(address: str, profile: str, part: Part) -> str:
    """The sources-to-targets shape: one JSON value in the query."""
    asked = {
        "sources": [_located(spot) for spot in part.origins],
        "targets": [_located(spot) for spot in part.destinations],
        "costing": profile,
        "units": "kilometers",
    }
    packed = quote(json.dumps(asked, separators=(",", ":")), "")
    return f"{address.rstrip('/')}/sources_to_targets?json={packed}"


def _located(spot: Spot) -> dict[str, float]:
    return {"lat": round(spot.latitude, 6), "lon": round(spot.longitude, 6)}
