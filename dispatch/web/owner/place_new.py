"""What is asked of a new place before anything can be planned there."""

from collections.abc import Mapping
from dataclasses import replace
from datetime import time
from typing import Any

from dispatch.actions import customers, place_entries
from dispatch.actions.entries import Entry
from dispatch.records.models import Place
from dispatch.web.owner import where
from dispatch.web.owner.form import Groups

_ROSE = "off a chart's compass rose: 15° west is -15; empty where it is not known"
HOURS = ("opens", "closes")


def groups() -> Groups:
    """The fields of a new place."""
    rules = tuple((str(k), str(v)) for k, v in Place.SprayRule.choices)
    return (
        (
            "What it is",
            (
                Entry(name="name", label="Name"),
                Entry(name="address", label="Address", longest=200, may_lack=True),
                Entry(name="is_base", label="The vans start here", kind="tick"),
            ),
        ),
        (
            "Where it lies",
            (
                replace(place_entries.number("latitude"), hint=where.HINT),
                place_entries.number("longitude"),
                Entry(name="time_zone", label="Time zone", kind="zone"),
                replace(place_entries.number("declination_deg"), hint=_ROSE),
            ),
        ),
        (
            "What it allows and has",
            (
                Entry(name="spray_rule", label="Spraying", kind="pick", choices=rules),
                Entry(
                    name="two_part_allowed",
                    label="Two-part products allowed",
                    kind="tick",
                ),
                Entry(name="water", label="Water there", kind="tick"),
                Entry(name="power", label="Power there", kind="tick"),
                Entry(name="afloat", label="Boats lie in the water here", kind="tick"),
                Entry(
                    name="opens",
                    label="Open from, Monday to Saturday",
                    kind="time",
                    may_lack=True,
                ),
                Entry(name="closes", label="Open until", kind="time", may_lack=True),
            ),
        ),
    )


def blank() -> dict[str, Any]:
    """What a new place begins with."""
    return {
        "spray_rule": Place.SprayRule.OPEN.value,
        "two_part_allowed": True,
        "water": True,
        "power": True,
        "afloat": False,
        "is_base": not Place.objects.filter(is_base=True).exists(),
        "time_zone": customers.blank()["time_zone"],
        "opens": time(8),
        "closes": time(18),
    }


def faults(new: Mapping[str, Any]) -> dict[str, str]:
    """What does not go together, a sentence by name."""
    opens, closes = (new.get(name) for name in HOURS)
    if (opens is None) != (closes is None) or (opens and closes and closes <= opens):
        return {"closes": "Give both times, the later one last, or neither."}
    return {}
