"""One visit as the crew sees it: what to do, whether to start, the sun on the hull, the film it laid."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from typing import Any
from zoneinfo import ZoneInfo

from dispatch.actions import (
    amounts,
    between_coats,
    clock,
    coats,
    compared,
    facts,
    fit_tests,
    hand_sky,
    holds,
    overrides,
    pot_life,
    rates,
    readings,
    ready,
    recoat,
    shut_out_card,
    stages,
    sun_facts,
    taken_back,
    too_little,
    visit_sky,
    why_cure,
    why_waits,
)
from dispatch.actions.amounts import Amount
from dispatch.actions.compared import Line
from dispatch.actions.errors import Refused
from dispatch.actions.overrides import Open
from dispatch.actions.ready import Ready
from dispatch.actions.shut_out_card import ShutOutCard
from dispatch.actions.sun_facts import SunFacts
from dispatch.actions.taken_back import Mistake
from dispatch.records.models import Hold, Person, Sheet, Stage, Visit
from dispatch.trade import film
from dispatch.trade.sky import SkyHour, local
from dispatch.trade.spans import Span
from dispatch.trade.words import Words

_SKILLS = {
    "spray-1": "On the gun",
    "spray-2": "On the gun (two-part)",
    "hood": "In a hood",
    "hose": "On the hose",
}


@dataclass(frozen=True, kw_only=True)
class VisitCard:
    """What is known of one visit; ``ready`` is None once it is done, ``sun`` where the heading is not known.

    ``coat_due``: its first coat is still to be reported; ``second_left``: only its second one is; ``too_little``: that
    the cans do not do for that one.
    """

    visit_id: int
    stage_id: int
    stage_name: str
    job_key: str
    boat: str
    boat_words: str
    berth: str
    state: str
    started_at: datetime | None
    ended_at: datetime | None
    steps: tuple[str, ...]
    hands: tuple[str, ...]
    cover: str
    product: str
    mixing: tuple[str, ...]
    lays_film: bool
    coat_due: bool
    second_left: bool
    too_little: str
    ready: Ready | None
    sky_says: str
    spoilt: str
    sky: str
    compared: tuple[Line, ...]
    sun: SunFacts | None
    sun_unknown: str
    film: tuple[str, ...]
    film_why: tuple[str, ...]
    readings: tuple[str, ...]
    overruled: str
    lead_may: tuple[Open, ...]
    note: str
    amounts: tuple[Amount, ...]
    mistake: Mistake | None
    shut_out: ShutOutCard | None


def of(visit: Visit, team: Sequence[Person], now: datetime, words: Words) -> VisitCard:
    """The card of a visit at a moment."""
    stage, boat = visit.stage, visit.stage.job.boat
    done = stage.state == Stage.State.DONE
    at = visit_sky.span(visit, now).start
    sun, unknown = _sun(visit, at)
    under_way, two_coats = stage.state == Stage.State.UNDER_WAY, bool(stage.flashes)
    first_on = coats.reported(stage)
    # As it is now, not as it was marked: a forecast may have come in since.
    says = visit_sky.of(stage, visit_sky.span(visit, now), now)
    return VisitCard(
        visit_id=visit.pk,
        stage_id=stage.pk,
        stage_name=stage.name,
        job_key=stage.job.key,
        boat=boat.name,
        boat_words=_boat(stage, words),
        berth=boat.berth,
        state=stage.state,
        started_at=_local(stage, stage.started_at),
        ended_at=_local(stage, stage.ended_at),
        steps=tuple(step["name"] for step in stage.steps),
        hands=tuple(_hands(visit, team)),
        cover="" if stage.cover == Stage.Cover.OPEN else stage.get_cover_display(),
        product=_product(stage, words),
        mixing=()
        if done
        else (
            *pot_life.lines(stage, visit_sky.span(visit, now), words),
            *between_coats.lines(stage, visit_sky.span(visit, now), words),
            *why_waits.lines(stage, visit_sky.span(visit, now), words),
        ),
        lays_film=stage.sheet is not None,
        coat_due=under_way and two_coats and not first_on,
        second_left=under_way and first_on,
        too_little=too_little.line(stage, words),
        ready=None if done else ready.of(visit, now),
        sky_says=says.word,
        spoilt=says.why,
        sky=_sky(stage, at, words),
        compared=() if done else compared.of(stage, visit_sky.span(visit, now), words),
        sun=sun,
        sun_unknown=unknown,
        film=(*_film(stage), *_recoat(stage)),
        film_why=_film_why(stage, words),
        readings=tuple(readings.lines(boat, now, words)),
        overruled=overrides.told(stage, visit_sky.span(visit, now)),
        lead_may=()
        if done
        else tuple(
            one
            for one in overrides.open_to(stage, Span(visit.start, visit.end))
            if one.by == "lead"
        ),
        note=stage.job.note,
        amounts=amounts.told(stage, words),
        mistake=taken_back.offered(stage),
        shut_out=shut_out_card.of(visit, now),
    )


def _boat(stage: Stage, words: Words) -> str:
    boat = stage.job.boat
    return f"{words.distance(boat.length_m)} {boat.hull_colour} {boat.shape.replace('-', ' ')}"


def _hands(visit: Visit, team: Sequence[Person]) -> list[str]:
    """Who of the team may take each special part of it, and who is missing."""
    lines = []
    for need in visit.stage.needs:
        if need["skill"] not in _SKILLS:
            continue
        able = [person.name for person in team if _able(person, need, visit.van_day.on)]
        who = ", ".join(able) or "nobody of the team: call the owner"
        lines.append(f"{_SKILLS[need['skill']]}: {who}")
    return lines


def _able(person: Person, need: Mapping[str, Any], day: date) -> bool:
    """Whether a person holds a skill at its level, with a fit test that holds where it has one."""
    return any(
        skill.name == need["skill"]
        and skill.level >= need["level"]
        and fit_tests.holds(skill, day)
        for skill in person.skills.all()
    )


def _product(stage: Stage, words: Words) -> str:
    if stage.sheet is None:
        return ""
    if not stage.product_ml:
        return stage.sheet.name
    film_um = film.wet_um(_on_a_square_metre(), 1.0)
    return (
        f"{stage.sheet.name}, {words.volume(stage.product_ml)}; "
        f"each coat about {words.film(film_um)} wet{_dry(stage.sheet, film_um, words)}, unless the sheet says otherwise"
    )


def _dry(sheet: Sheet, wet_um: float, words: Words) -> str:
    """What a wet film dries to, where the sheet's solids are entered."""
    if sheet.solids_pct is None:
        return ""
    return f", {words.film(film.dry_um(wet_um, sheet.solids_pct))} dry"


def _on_a_square_metre() -> float:
    """Millilitres a coat lays there, by the outfit's rate and without waste."""
    return film.product_ml(1.0, coats=1, waste=1.0, coverage=rates.coverage())


def _sun(visit: Visit, at: datetime) -> tuple[SunFacts | None, str]:
    stage = visit.stage
    try:
        heading = stage.heading_true_deg
        heading = stages.true_heading(stage.job) if heading is None else heading
    except Refused as refusal:
        return None, str(refusal)
    if heading is None:
        return None, "Nobody entered which way she heads, so shade is not known."
    return sun_facts.of(visit, at, heading % 360), ""


def _sky(stage: Stage, at: datetime, words: Words) -> str:
    """The forecast's hour at the place in numbers; what it leaves out is said to be unknown."""
    place = stage.job.boat.place
    forecast = facts.latest_forecast(place, clock.now())
    hour = Span(at - timedelta(hours=1), at + timedelta(minutes=1))
    sky = facts.sky_of(forecast, hour)
    if forecast is None or sky is None:
        return "No forecast: the sky is not known."
    zone = ZoneInfo(place.time_zone)
    issued = f"{forecast.issued_at.astimezone(zone):%a %H:%M}"
    hours = [one for one in local(sky, facts.site(place, hour)).hours if one.at <= at]
    if not hours or at - hours[-1].at >= timedelta(hours=1):
        return f"The forecast of {issued} does not reach {at.astimezone(zone):%a %H:%M}: the sky is not known."
    hour_of = f"{hours[-1].at.astimezone(zone):%H:%M}"
    by_hand = hand_sky.of(forecast)
    source = f"Forecast of {issued} for {hour_of}"
    if by_hand and by_hand.span.holds(hours[-1].at):
        source = f"{by_hand.sentence}; at {hour_of}"
    return f"{source}: {_numbers(hours[-1], words)}."


def _numbers(hour: SkyHour, words: Words) -> str:
    said = (
        ("air", hour.air_c, words.degrees),
        ("dew point", hour.dew_c, words.degrees),
        ("gusts", hour.gust_ms, words.speed),
        ("chance of rain", hour.rain_prob_pct, lambda pct: f"{pct:.0f} %"),
    )
    return ", ".join(
        f"{name} {'not known' if value is None else say(value)}"
        for name, value, say in said
    )


def _film(stage: Stage) -> list[str]:
    """When film that was laid is rain-safe and sandable."""
    zone = ZoneInfo(stage.job.boat.place.time_zone)
    return [
        f"{Hold.Kind(hold.kind).label} {holds.when(hold, zone)}"
        for hold in stage.holds.all()
        if not hold.planned
    ]


def _film_why(stage: Stage, words: Words) -> tuple[str, ...]:
    """How the moments of film that was laid come about."""
    laid = next((hold.start for hold in stage.holds.all() if not hold.planned), None)
    return why_cure.lines(stage, laid, words) if laid else ()


def _recoat(stage: Stage) -> Iterator[str]:
    """Until when the second coat of a visit under way may follow the first, by the sheet; told on the safe side.

    It is counted from the first coat's end, from the visit's start where nobody reported that.
    """
    if stage.state != Stage.State.UNDER_WAY or not recoat.limited(stage):
        return
    zone = ZoneInfo(stage.job.boat.place.time_zone)
    latest = recoat.told(stage)
    by = f"{latest.astimezone(zone):%a %H:%M}" if latest else "a time not known"
    yield (
        f"Second coat by {by} at the latest, by the sheet of {stage.sheet}. After that: leave her until "
        "sandable, scuff, wipe, and lay both coats again on that side"
    )


def _local(stage: Stage, moment: datetime | None) -> datetime | None:
    zone = ZoneInfo(stage.job.boat.place.time_zone)
    return moment.astimezone(zone) if moment else None
