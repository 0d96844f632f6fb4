"""Do the slow work that is due, one claimed row at a time."""

from collections.abc import Callable, Mapping

from dispatch.actions import (
    ask_sky,
    asked_prices,
    awaited_sky,
    board_mends,
    channel_test,
    drives,
    due,
    facts,
    feeds,
    film_sky,
    hearing,
    last_answers,
    mend_anew,
    mends,
    owner_told,
    planning,
    refiguring,
    weather,
)
from dispatch.actions.errors import Refused
from dispatch.records.models import DueWork, Job, Place, WeekPlan


def sweep(lane: str = "") -> int:
    """Do what is due of a lane (search, weather, rest), or of all where none is named; return how many rows were settled.

    A search takes a minute and a plugin that is asked may hang: workers of another lane go on meanwhile.
    """
    settled = 0
    for row in due.claim(_LANES[lane] if lane else None):
        due.settle(row, _do(row))
        settled += 1
    return settled


def _do(row: DueWork) -> str:
    """Do one row's work; return the fault, empty where there was none."""
    try:
        _VERBS[row.verb](row.key)
    except Refused as refusal:
        return str(refusal)
    return ""


def _judge(key: str) -> None:
    stage = facts.open_stages().filter(pk=int(key)).first()
    if stage is not None:
        weather.judge(stage)


def _judge_book(_key: str) -> None:
    for stage in facts.open_stages():
        due.put("judge-stage", str(stage.pk))


def _refigure_book(key: str) -> None:
    for job in refiguring.waiting(key):
        due.put("refigure-job", job)


def _refigure(key: str) -> None:
    job = Job.objects.select_related("boat__place", "kind", "sheet").get(key=key)
    refiguring.refigure(job)


def _take_in(key: str) -> None:
    weather.take_in(Place.objects.get(key=key))


def _ask_sky(_key: str) -> None:
    weather.ask_all()


def _ask_prices(_key: str) -> None:
    asked_prices.ask_all()


def _measure_drives(_key: str) -> None:
    drives.measure()


def _reckon_film(key: str) -> None:
    place = Place.objects.get(key=key)
    film_sky.reckon(place)
    owner_told.at_place(place)


def _age_film(key: str) -> None:
    film_sky.age(Place.objects.get(key=key))


def _build(key: str) -> None:
    plan = WeekPlan.objects.filter(pk=int(key)).first()
    if plan is not None:
        awaited_sky.wait(plan, lend=_judge_one)
        planning.build(plan)


def _judge_one() -> bool:
    """Do one piece of the judging that is due; whether there was any."""
    for row in due.claim(awaited_sky.VERBS):
        due.settle(row, _do(row))
        return True
    return False


def _write_feeds(_key: str) -> None:
    feeds.write_all()


_VERBS: Mapping[str, Callable[[str], None]] = {
    "judge-stage": _judge,
    "judge-book": _judge_book,
    "refigure-book": _refigure_book,
    "refigure-job": _refigure,
    "take-in-forecast": _take_in,
    "reckon-film": _reckon_film,
    "age-film": _age_film,
    planning.VERB: _build,
    ask_sky.VERB: _ask_sky,
    asked_prices.VERB: asked_prices.ask,
    asked_prices.ALL_VERB: _ask_prices,
    channel_test.VERB: channel_test.send,
    drives.VERB: _measure_drives,
    hearing.VERB: hearing.hear,
    feeds.VERB: _write_feeds,
    last_answers.VERB: last_answers.ask_again,
    board_mends.VERB: mends.price,
    mend_anew.VERB: mend_anew.price,
}
_SEARCH, _WEATHER = (
    frozenset({planning.VERB, mend_anew.VERB}),
    frozenset(
        {
            "judge-stage",
            "judge-book",
            "take-in-forecast",
            "reckon-film",
            "age-film",
            ask_sky.VERB,
            asked_prices.VERB,
            asked_prices.ALL_VERB,
            drives.VERB,
            last_answers.VERB,
        }
    ),
)
_LANES: Mapping[str, frozenset[str]] = {
    "search": _SEARCH,
    "weather": _WEATHER,
    "rest": frozenset(_VERBS) - _SEARCH - _WEATHER,
}
