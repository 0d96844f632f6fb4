"""The lists the owner may take out and bring in whole: each with its columns, its rows, and how a row is added or changed."""

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from datetime import time
from typing import Any

from dispatch.actions import (
    boats,
    cans,
    customers,
    job_states,
    keeping,
    people,
    place_entries,
    places,
    term_entries,
    terms,
)
from dispatch.actions.entries import Entry
from dispatch.actions.errors import Refused
from dispatch.records.models import (
    Account,
    Boat,
    Can,
    Customer,
    Job,
    Outfit,
    Person,
    Place,
)

Values = Mapping[str, Any]
_WHY = "Brought in from a list."
_OPEN = (time(8), time(18))


@dataclass(frozen=True, kw_only=True)
class Table:
    """A list: ``mark`` is the column that names a row, by its key or its number; empty there is a new row.

    ``add`` and ``change`` take values by name and raise Refused for what will not do.
    """

    key: str
    name: str
    mark: str
    entries: Callable[[], tuple[Entry, ...]]
    rows: Callable[[], Iterable[Any]]
    values: Callable[[Any], dict[str, Any]]
    blank: Callable[[], dict[str, Any]]
    add: Callable[[Values, Account], Any]
    change: Callable[[Any, Values, Account], object]

    def mark_of(self, row: Any) -> str:  # noqa: ANN401 - a row of any table
        """How a row is named in the list."""
        return str(row.key if self.mark == "Key" else row.pk)


def _job_entries() -> tuple[Entry, ...]:
    zone = Outfit.objects.get().time_zone
    choices = tuple(Boat.objects.values_list("key", "name"))
    states = tuple((str(k), str(v)) for k, v in Job.State.choices)
    return (
        Entry(name="boat", label="Boat", kind="pick", choices=choices),
        term_entries.kind(),
        Entry(name="state", label="State", kind="pick", choices=states),
        *term_entries.unpriced(term_entries.entered(zone)),
    )


def _job_values(job: Job) -> dict[str, Any]:
    own = {"boat": job.boat.key, "kind": job.kind.key, "state": job.state}
    return terms.values(job) | own


def _job_add(new: Values, by: Account) -> Job:
    boat = Boat.objects.select_related("place", "customer").get(key=new["boat"])
    given = {n: v for n, v in new.items() if n not in ("boat", "state")}
    return terms.take(boat, given, state=new["state"], by=by)


def _job_change(job: Job, new: Values, by: Account) -> None:
    stands = _job_values(job)
    for name in ("boat", "kind"):
        if new.get(name, stands[name]) != stands[name]:
            raise Refused(
                f"The {name} of a job cannot change. Call it off and take another."
            )
    rest = {n: v for n, v in new.items() if n not in ("boat", "kind", "state")}
    terms.change(job, rest, by=by, why=_WHY)
    if new.get("state", job.state) != job.state:
        job_states.move(job, new["state"], by=by, why=_WHY)


def _place_blank() -> dict[str, Any]:
    given = {"wind_factor": 1.0, "day_offset_k": 0.0, "night_offset_k": 0.0}
    ticks = {"two_part_allowed": True, "water": True, "power": True, "afloat": False}
    rules = {"spray_rule": "open", "heat_rule": "stricter", "sign_in_minutes": 0}
    zone = customers.blank()["time_zone"]
    texts = dict.fromkeys(("address", "gate", "rules"), "")
    lacks = dict.fromkeys(("declination_deg", "swing_room_m", "water_off_m"))
    return given | ticks | rules | texts | lacks | {"time_zone": zone}


def _place_values(place: Place) -> dict[str, Any]:
    return keeping.stands(place, place_entries.entered())


TABLES: Mapping[str, Table] = {
    one.key: one
    for one in (
        Table(
            key="customers",
            name="Customers",
            mark="Number",
            entries=customers.entries,
            rows=Customer.objects.order_by("pk").all,
            values=customers.values,
            blank=customers.blank,
            add=lambda new, by: customers.add(new, by=by),
            change=lambda row, new, by: customers.change(row, new, by=by, why=_WHY),
        ),
        Table(
            key="boats",
            name="Boats",
            mark="Key",
            entries=boats.entered,
            rows=Boat.objects.select_related("place", "customer").all,
            values=boats.values,
            blank=boats.blank,
            add=lambda new, by: boats.add(new, by=by),
            change=lambda row, new, by: boats.change(row, new, by=by, why=_WHY),
        ),
        Table(
            key="jobs",
            name="Jobs",
            mark="Key",
            entries=_job_entries,
            rows=Job.objects.select_related("boat__place", "kind", "sheet").all,
            values=_job_values,
            blank=lambda: terms.blank() | {"state": "agreed", "price_cents": None},
            add=_job_add,
            change=_job_change,
        ),
        Table(
            key="people",
            name="People",
            mark="Key",
            entries=people.entered,
            rows=Person.objects.prefetch_related("skills", "duties").all,
            values=people.values,
            blank=people.blank,
            add=lambda new, by: people.add(new, by=by),
            change=lambda row, new, by: people.change(row, new, by=by, why=_WHY),
        ),
        Table(
            key="cans",
            name="Cans",
            mark="Number",
            entries=cans.entered,
            rows=Can.objects.select_related("sheet").all,
            values=cans.values,
            blank=cans.blank,
            add=lambda new, by: cans.add(new, by=by),
            change=lambda row, new, by: cans.change(row, new, by=by, why=_WHY),
        ),
        Table(
            key="places",
            name="Places",
            mark="Key",
            entries=place_entries.entered,
            rows=Place.objects.all,
            values=_place_values,
            blank=_place_blank,
            add=lambda new, by: places.add(new, _OPEN, by=by),
            change=lambda row, new, by: places.change(row, new, by=by, why=_WHY),
        ),
    )
}
