"""The snags beside the board, each with what mends it, what that costs, and the one tap that does it."""

from collections.abc import Iterator, Mapping
from datetime import date
from typing import Any

from django.urls import reverse

from dispatch.actions.board import Board, Snag
from dispatch.actions.board_text import mend
from dispatch.actions.priced import Offer
from dispatch.records.models import WeekPlan
from dispatch.web.owner import held

Context = dict[str, Any]


def of(board: Board, shown: WeekPlan, monday: date) -> list[Context]:
    """A row for each snag: itself, its mend in words, the form or the link that does it."""
    return [_row(board, snag, shown, monday) for snag in board.snags]


def _row(board: Board, snag: Snag, shown: WeekPlan, monday: date) -> Context:
    said = mend(board, snag.priced) if snag.priced else ""
    row: Context = {"snag": snag, "says": _once(snag), "said": said}
    if snag.priced and snag.priced.ask.get("stage", snag.priced.ask.get("van")):
        row |= _by_hand(snag.priced.ask, shown)
    elif snag.anew and board.state == "standing":
        cause = f"{snag.subject}: {snag.sentence}"
        to = reverse("week-rest", args=[monday])
        row |= {"to": to, "sent": [("cause", cause)], "button": "Plan the rest anew"}
    elif snag.does == "shut-out":
        row |= held.row(snag, monday)
    else:
        row |= _tap(snag, shown, monday)
    row["offers"] = [_offer(board, offer, shown, monday) for offer in snag.offers]
    return row


def _offer(board: Board, offer: Offer, shown: WeekPlan, monday: date) -> Context:
    """One of several things to do: the form that does it, else the page that leads there."""
    row: Context = {"words": offer.words}
    if offer.grade:
        to = reverse("week-regrade", args=[monday, offer.job])
        sent = [("grade", str(offer.grade))]
        return row | {"to": to, "sent": sent, "button": f"Grade her {offer.grade}"}
    if offer.priced:
        row["said"] = mend(board, offer.priced)
        if offer.priced.ask:
            return row | _by_hand(offer.priced.ask, shown)
    moves = f"{reverse('moves', args=[offer.stage])}?week={monday:%Y-%m-%d}"
    return row | {"link": moves, "link_words": "Put it elsewhere by hand"}


def _once(snag: Snag) -> str:
    """What a snag says without the name that stands above it."""
    said = snag.sentence.removeprefix(f"{snag.subject}: ")
    return f"{said[:1].upper()}{said[1:]}"


def _by_hand(ask: Mapping[str, Any], shown: WeekPlan) -> Context:
    """The form that the page of a visit has for the same, filled in."""
    sent = [("plan", str(shown.pk)), *_fields(ask)]
    if ask["do"] == "put":
        to = reverse("moves-put", args=[ask["stage"]])
        return {"to": to, "sent": sent, "button": "Put it there in a draft"}
    to = reverse("moves-swap", args=[_stage_of(shown, ask)])
    return {"to": to, "sent": sent, "button": "Swap them in a draft"}


def _fields(ask: Mapping[str, Any]) -> Iterator[tuple[str, str]]:
    for name in ("van", "day", "at", "out", "into"):
        if name in ask:
            yield name, ask[name]
    yield from (("who", one) for one in ask.get("who", ()))


def _stage_of(shown: WeekPlan, ask: Mapping[str, Any]) -> str:
    """A visit of the van's day: the page that it leads back to where the swap can no longer be."""
    number = (date.fromisoformat(ask["day"]) - shown.week.starts_on).days
    found: str = next(
        stop["stage"]
        for row in shown.plan["van_days"]
        if (row["van"], row["day"]) == (ask["van"], number)
        for stop in row["stops"]
        if stop["do"] == "visit"
    )
    return found


def _tap(snag: Snag, shown: WeekPlan, monday: date) -> Context:
    if snag.does == "forecasts":
        to = reverse("week-forecasts", args=[monday])
        return {"to": to, "sent": [], "button": "Get forecasts now"}
    if snag.does == "cast-off":
        sent = [("plan", str(shown.pk)), ("off", "1")]
        to = reverse("moves-fast", args=[snag.stage])
        return {"to": to, "sent": sent, "button": "Cast it off"}
    if snag.does in ("cover", "covered"):
        return _cover(snag, shown, monday)
    if snag.does == "told":
        to = reverse("week-told", args=[monday, snag.about.removeprefix("told:")])
        return {"to": to, "sent": [], "button": "Dealt with"}
    return {"links": list(_links(snag))}


def _cover(snag: Snag, shown: WeekPlan, monday: date) -> Context:
    which = snag.about.split(":")
    if snag.does == "covered":
        to = reverse("week-covered", args=[monday, which[1]])
        return {"to": to, "sent": [], "button": "She is covered"}
    roof = which[2]
    sent = [("plan", str(shown.pk)), ("roof", roof)]
    to = reverse("week-cover", args=[monday, which[1]])
    return {
        "to": to,
        "sent": sent,
        "button": "Cover her" if roof else "Cover her with what can be had",
    }


def _links(snag: Snag) -> Iterator[tuple[str, str]]:
    """The page where a person mends it, and its name."""
    if snag.does == "stores":
        yield reverse("stores"), "What to order, by when"
    if snag.does == "boat":
        card = reverse("boat-card", args=[snag.about.removeprefix("boat:")])
        yield card, "Her card"
