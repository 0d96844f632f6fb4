"""Boats whose wet film is to be covered, in words for the crew."""

from zoneinfo import ZoneInfo

from dispatch.actions import covered, struck
from dispatch.actions.board_words import when
from dispatch.records.models import Cover


def lines() -> list[tuple[Cover, str, str]]:
    """Each cover that is asked for and not on yet, with what to do in words, and whether gusts let it stand."""
    return [
        (one, _says(one), struck.of(one))
        for one in covered.standing().values()
        if one.on_at is None
    ]


def _says(cover: Cover) -> str:
    place = cover.job.boat.place
    by = (
        f" by {when(cover.by_when, ZoneInfo(place.time_zone))}" if cover.by_when else ""
    )
    return f"at {place.name}{by}, with {covered.name(cover)}. Touch no film"
