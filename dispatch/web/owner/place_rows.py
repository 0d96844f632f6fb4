"""What a place has in rows: its hours, what stands near and on the horizon, and when it is shut."""

import json
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from datetime import datetime, time
from typing import Any
from zoneinfo import ZoneInfo

from dispatch.actions import place_words, places
from dispatch.records.models import Place
from dispatch.web.owner import place_columns
from dispatch.web.owner.meanwhile import WAS, Stands

_SPARE = 2
_ABOUT: Mapping[str, str] = {
    "hours": "When the crew may work there. A day without a line is shut; a day may have two lines.",
    "neighbours": "What spray must not reach: bearing from the boat, degrees true, and how far off it stands.",
    "horizon": "Trees and buildings that give shade: from one bearing clockwise to another, degrees true, and how high they stand.",
    "closures": "Days it is shut to you, hours in which it lets you in all the same, hours without water under a float, a sprinkler's hours on one day.",
    "wettings": "A sprinkler, a neighbour's lawn: on which days, and from when to when; to the next day where it ends no later. It counts as rain does.",
}
Given = list[dict[str, str]]


@dataclass(frozen=True, kw_only=True)
class Cell:
    """One cell of a row; ``kind`` is text, number, time, moment, tick or pick."""

    name: str
    label: str
    kind: str
    entered: str
    choices: tuple[tuple[str, str], ...] = ()


@dataclass(frozen=True, kw_only=True)
class Rows:
    """Rows of one sort, with some spare ones; a row whose first cell is emptied is taken out.

    ``was`` is what they were shown as; ``now`` says what stands where somebody else changed them.
    """

    name: str
    label: str
    about: str
    fault: str
    rows: tuple[tuple[Cell, ...], ...]
    was: str
    now: str

    @property
    def wrong(self) -> str:
        """The id of what is wrong with them, where anything is."""
        return f"{self.name}-fault" if self.fault else ""


def of(
    place: Place,
    sent: Mapping[str, str],
    faults: Mapping[str, str],
    crossed: Mapping[str, str],
) -> tuple[Rows, ...]:
    """Every sort of rows, as they stand or as they were sent; ``crossed`` says what stands meanwhile, by name."""
    now = as_one(shown(place))
    given = _sent(sent) if sent else shown(place)
    return tuple(
        Rows(
            name=name,
            label=place_words.NAMES[name],
            about=about,
            fault=faults.get(name, ""),
            rows=tuple(
                _cells(name, n, row) for n, row in enumerate(_spared(given[name]))
            ),
            was=sent.get(f"{WAS}{name}", now[name]),
            now=crossed.get(name, ""),
        )
        for name, about in _ABOUT.items()
    )


def as_one(rows: Mapping[str, Given]) -> dict[str, str]:
    """The rows of each sort as one text, to tell whether they are the same."""
    return {name: json.dumps(given, sort_keys=True) for name, given in rows.items()}


def sent_as_one(sent: Mapping[str, str]) -> dict[str, str]:
    """What was sent of each sort, as one text."""
    return as_one(_sent(sent))


def apart(sent: Mapping[str, str]) -> dict[str, str]:
    """What is to be shown again, each sort's one text as its cells."""
    found = {n: v for n, v in sent.items() if n.partition(".")[0] not in _ABOUT}
    for name in _ABOUT:
        for number, row in enumerate(json.loads(sent[name])):
            found |= {f"{name}.{number}.{key}": value for key, value in row.items()}
    return found


def stands(place: Place) -> dict[str, Stands]:
    """How the rows of each sort stand now."""
    values = places.values(place)
    return {
        name: Stands(shown=text, said=place_words.said(name, values[name]))
        for name, text in as_one(shown(place)).items()
    }


def shown(place: Place) -> dict[str, Given]:
    """The rows of a place as the form shows them."""
    now, zone = places.values(place), ZoneInfo(place.time_zone)
    far = place_words.unit("distance_m")
    return {
        "hours": [
            {"day": str(day), "from": f"{start:%H:%M}", "to": f"{end:%H:%M}"}
            for day, start, end in now["hours"]
        ],
        "neighbours": [
            {
                "what": row["what"],
                "bearing": f"{row['bearing_deg']:g}",
                "far": far.shown(row["distance_m"]),
                "sheeted": "on" if row.get("sheeted") else "",
            }
            for row in now["neighbours"]
        ],
        "horizon": [
            {
                "from": f"{row['from_deg']:g}",
                "to": f"{row['to_deg']:g}",
                "high": f"{row['elevation_deg']:g}",
            }
            for row in now["horizon"]
        ],
        "closures": [
            {
                "reason": row["reason"],
                "kind": row["kind"],
                "from": f"{row['start'].astimezone(zone):%Y-%m-%dT%H:%M}",
                "to": f"{row['end'].astimezone(zone):%Y-%m-%dT%H:%M}",
            }
            for row in now["closures"]
        ],
        "wettings": [
            {
                "what": row["what"],
                "days": "".join(map(str, row["days"])),
                "from": row["from"],
                "to": row["to"],
            }
            for row in now["wettings"]
        ],
    }


def values(place: Place, sent: Mapping[str, str]) -> dict[str, Any]:
    """The rows that were changed of what was shown, in SI; what is no number or time stays text, to be refused."""
    stood, given = as_one(shown(place)), _sent(sent)
    texts = as_one(given)
    zone = ZoneInfo(place.time_zone)
    read: Mapping[str, Callable[[dict[str, str]], Any]] = {
        "hours": lambda row: (int(row["day"]), _time(row["from"]), _time(row["to"])),
        "neighbours": _neighbour,
        "horizon": lambda row: {
            "from_deg": _number(row["from"]),
            "to_deg": _number(row["to"]),
            "elevation_deg": _number(row["high"]),
        },
        "closures": lambda row: _closure(row, zone),
        "wettings": _wetting,
    }
    kept = _kept(place)
    return {
        name: [kept.get(_key(name, row)) or read[name](row) for row in rows]
        for name, rows in given.items()
        if texts[name] != sent.get(f"{WAS}{name}", stood[name])
    }


def _kept(place: Place) -> dict[str, Any]:
    """The rows as they are stored, by how they are shown: one left as it was stays so to the last figure."""
    now = places.values(place)
    return {
        _key(name, row): stored
        for name, rows in shown(place).items()
        for row, stored in zip(rows, now[name], strict=True)
    }


def _key(name: str, row: Mapping[str, str]) -> str:
    return json.dumps([name, row], sort_keys=True)


def _spared(rows: Given) -> Given:
    return [*rows, *({} for _ in range(_SPARE))]


def _cells(name: str, number: int, row: Mapping[str, str]) -> tuple[Cell, ...]:
    return tuple(
        Cell(
            name=f"{name}.{number}.{key}",
            label=label,
            kind=kind,
            entered=row.get(key, ""),
            choices=place_columns.with_own(choices, row.get(key, "")),
        )
        for key, label, kind, choices in place_columns.of()[name]
    )


def _sent(sent: Mapping[str, str]) -> dict[str, Given]:
    return {name: list(_rows(name, sent)) for name in _ABOUT}


def _rows(name: str, sent: Mapping[str, str]) -> Iterator[dict[str, str]]:
    """Rows as they were sent, those without a word in them left out."""
    columns, number = place_columns.of()[name], 0
    while any(f"{name}.{number}.{key}" in sent for key, *_ in columns):
        row = {
            key: sent.get(f"{name}.{number}.{key}", "").strip() for key, *_ in columns
        }
        if any(row[key] for key, _, kind, _ in columns if kind not in ("pick", "tick")):
            yield row
        number += 1


def _neighbour(row: Mapping[str, str]) -> dict[str, Any]:
    found = {
        "what": row["what"],
        "bearing_deg": _number(row["bearing"]),
        "distance_m": _metres(row["far"]),
    }
    return found | ({"sheeted": True} if row["sheeted"] else {})


def _closure(row: Mapping[str, str], zone: ZoneInfo) -> dict[str, Any]:
    return {
        "kind": row["kind"],
        "start": _moment(row["from"], zone),
        "end": _moment(row["to"], zone),
        "reason": row["reason"],
    }


def _wetting(row: Mapping[str, str]) -> dict[str, Any]:
    begins, ends = _time(row["from"]), _time(row["to"])
    return {
        "what": row["what"],
        "days": [int(day) for day in row["days"] if day.isdigit()],
        "from": begins and f"{begins:%H:%M}",
        "to": ends and f"{ends:%H:%M}",
    }


def _number(text: str) -> float | str:
    try:
        return float(text)
    except ValueError:
        return text


def _metres(text: str) -> float | str:
    try:
        return place_words.unit("distance_m").stored(text)
    except ValueError:
        return text


def _time(text: str) -> time | None:
    try:
        return time.fromisoformat(text).replace(tzinfo=None)
    except ValueError:
        return None


def _moment(text: str, zone: ZoneInfo) -> datetime | None:
    try:
        return datetime.fromisoformat(text).replace(tzinfo=zone)
    except ValueError:
        return None
