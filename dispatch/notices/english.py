"""What we say, in English: for each occasion a subject and sentences, the most needed first."""

from collections.abc import Sequence
from datetime import date, datetime
from zoneinfo import ZoneInfo

from dispatch.notices.reasons import (
    About,
    Agreed,
    Ahead,
    Arrival,
    Came,
    Cover,
    CoverSettled,
    FilmThreat,
    FilmWet,
    Morning,
    Moved,
    Pickup,
    Yearly,
)
from dispatch.trade.spans import Span

_DAYS = ("Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun")
_MONTHS = (
    *("Jan", "Feb", "Mar", "Apr", "May", "Jun"),
    *("Jul", "Aug", "Sep", "Oct", "Nov", "Dec"),
)
_ROOF = "No roof goes up with one person alone, nor in strong gusts."
Said = tuple[str, tuple[str, ...]]


def agreed(told: Agreed) -> Said:
    """The job is agreed."""
    about = told.about
    return f"{about.boat}: agreed", _given(
        f"{about.boat}: agreed, {told.what.lower()} at {about.place}. {_days(told)}",
        *told.prepare,
        "We write again two working days before we come, and the evening before.",
    )


def _days(told: Agreed) -> str:
    """The days that were promised."""
    if told.done is None:
        return "The days are not settled yet."
    first, last = (at.astimezone(told.about.zone) for at in told.done)
    if told.hard:
        return f"It is to be done by {_moment(last, told.about.zone)}."
    if first.date() == last.date():
        return f"We plan to have it done on {_day(last)}, if the weather lets us."
    return f"We plan to have it done between {_day(first)} and {_day(last)}, as the weather lets us."


def ahead(told: Ahead) -> Said:
    """The crew is to come in some days."""
    about, when = told.about, _within(told.arrives, told.about.zone)
    return f"{about.boat}: we plan to come {when}", (
        f"{about.boat}: we plan to be with you at {about.place} {when}.",
        _doubt(told.doubt) or "As the forecast stands, the weather allows it.",
        "We will write again the evening before.",
    )


def morning(told: Morning) -> Said:
    """The crew comes today."""
    about, when = told.about, _within(told.arrives, told.about.zone)
    return f"{about.boat}: we come today", _given(
        f"{about.boat}: our crew will be with you at {about.place} today, {when}.",
        _doubt(told.doubt),
        "If it moves, we will tell you.",
    )


def yearly(told: Yearly) -> Said:
    """A year has gone by."""
    about = told.about
    return f"{about.boat}: a year since we finished", (
        f"{about.boat}: we finished the boat on {_day(told.finished_on)} {told.finished_on.year}.",
        "Once a year a finish is worth a look, for scratches, chalk and worn edges.",
        "Answer this message or call, and we will come by and look with you.",
    )


def arrival(told: Arrival) -> Said:
    """The crew comes."""
    about, when = told.about, _within(told.arrives, told.about.zone)
    return f"{about.boat}: we come {when}", _given(
        f"{about.boat}: our crew will be with you at {about.place} {when}.",
        told.prepare and f"Before then, please {_listed(told.prepare)}.",
        told.doing and f"Planned: {_done_in_order(told.doing)}.",
        _doubt(told.doubt),
        "If the weather moves it, we will tell you.",
    )


def _done_in_order(work: Sequence[str]) -> str:
    """Work in a row; where a name has a comma of its own, semicolons part them."""
    names = [f"{one[:1].lower()}{one[1:]}" for one in work]
    return "; ".join(names) if any("," in one for one in names) else _listed(names)


def _doubt(why: str) -> str:
    """Why a visit may not be, where it may not."""
    return f"The weather may not allow it: {why.rstrip('.')}." if why else ""


def moved(told: Moved) -> Said:
    """Visits do not hold."""
    about, one = told.about, len(told.days) == 1
    visits, is_, has = ("visit", "is", "has") if one else ("visits", "are", "have")
    said = f"{is_} off" if told.off else f"{has} moved"
    days = _listed([_day(day) for day in told.days])
    return f"{about.boat}: our {visits} {said}", _given(
        f"{about.boat}: our {visits} of {days} at {about.place} {said}.",
        _instead(told),
        f"Reason: {told.why.rstrip('.')}.",
    )


def _instead(told: Moved) -> str:
    """When we come in place of what was told."""
    if told.arrives:
        return f"We will now be with you {_within(told.arrives, told.about.zone)}."
    if told.off:
        return ""
    if told.appointment:
        at = _moment(told.appointment, told.about.zone)
        return f"The appointment is now {at}; we will write again the evening before."
    return "The new time is not settled yet; we will tell you as soon as it is."


def came(told: Came) -> Said:
    """The crew came in vain."""
    about = told.about
    return f"{about.boat}: we came and could not get to the boat", (
        f"{about.boat}: our crew was at {about.place} {_within(told.waited, about.zone)} and could not get to the boat.",
        "Please answer or call, so that we can agree on when to come again.",
    )


def pickup(told: Pickup) -> Said:
    """The boat is done."""
    about, ready = told.about, _moment(told.ready_at, told.about.zone)
    return f"{about.boat} is finished", _given(
        f"{about.boat} is finished: you can collect the boat at {about.place} from {ready}.",
        told.numbers_off
        and "The registration numbers are not on the boat; put them on before it is used.",
        care(told.care_days, told.care),
    )


def care(days: int, words: str) -> str:
    """What a new finish asks for in its first days; where the outfit has no words for it, to be asked first."""
    if not days:
        return ""
    within = "On the first day" if days == 1 else f"For the first {days} days"
    if not words:
        return f"{within} please ask us before you wash, polish or cover the boat."
    return f"{within}: {' '.join(words.split())}"


def film_wet(told: FilmWet) -> Said:
    """Do not touch."""
    about = told.about
    cover = (
        f"We expect it to be hard enough to cover {_within(told.cover, about.zone)}; please wait for the later time."
        if told.cover
        else "We do not know yet when it can be covered; we will tell you."
    )
    return f"{about.boat}: the film is wet, please do not touch", (
        f"{about.boat}: the film on {_listed(told.panels)} is wet.",
        "Please do not touch, wash or cover the boat, and keep sprinklers off.",
        cover,
    )


def cover(told: Cover) -> Said:
    """To the crew: cover her."""
    about = told.about
    by = f"by {_moment(told.by, about.zone)}" if told.by else "now"
    comes = f": {told.threat}" if told.threat else ""
    stays = f"{told.stays[:1].upper()}{told.stays[1:]}." if told.stays else ""
    return f"Cover {about.boat} {by}", _given(
        f"Cover the wet film of {about.boat} at {about.place} {by}, with {told.using}{comes}.",
        stays,
        f"{_kept_until(told.safe, about.zone)} Touch no film.",
        _ROOF,
        "Say on your route when she is covered; if nobody can go, call the owner.",
    )


def cover_settled(told: CoverSettled) -> Said:
    """To the crew: nobody need go."""
    about = told.about
    if told.since is None:
        return f"{about.boat}: no cover wanted", (
            f"{about.boat} at {about.place}: no cover is wanted any more. Nobody need go.",
        )
    by = f", says {told.who}" if told.who else ""
    return f"{about.boat} is covered", (
        f"{about.boat} at {about.place} is covered since {_moment(told.since, about.zone)}{by}. Nobody else need go.",
    )


def film_threat(told: FilmThreat) -> Said:
    """To the owner: rain or dew comes to wet film."""
    about = told.about
    by = f"by {_moment(told.by, about.zone)}" if told.by else "now"
    do = (
        f"{told.asked[:1].upper()}{told.asked[1:]} is asked for, and nobody has said that it is on: it must be on {by}."
        if told.asked
        else f"Cover the boat {by}: ask for it on the page of the week, or call the crew."
    )
    return f"{about.boat}: {told.threat}, and the film is wet", (
        f"{about.boat} at {about.place}: {told.threat} by the newest forecast, and the film on {_listed(told.panels)} is wet.",
        do,
        f"{_kept_until(told.safe, about.zone)} Touch no film.",
        _ROOF,
    )


def _kept_until(safe: datetime | None, zone: ZoneInfo) -> str:
    """Until when wet film must be kept from the sky."""
    if safe is None:
        return "Until when it must be kept from rain and dew is not known."
    return f"It must be kept from rain and dew until about {_moment(safe, zone)}."


def letter(sentences: Sequence[str], about: About) -> str:
    """An e-mail's body, signed with the number to ring."""
    signed = f"{about.outfit}\n{about.phone}" if about.phone else about.outfit
    return "\n\n".join(("Hello,", *sentences, signed)) + "\n"


def ring(about: About) -> str:
    """Whom to ring, at the end of a text; nothing where no number is known."""
    return f"{about.outfit}, {about.phone}" if about.phone else ""


def _given(*sentences: object) -> tuple[str, ...]:
    return tuple(str(sentence) for sentence in sentences if sentence)


def _within(span: Span, zone: ZoneInfo) -> str:
    """A span in the words of people: the day once where it is one day."""
    start, end = span.start.astimezone(zone), span.end.astimezone(zone)
    if start.date() == end.date():
        return f"{_day(start)} between {start:%H:%M} and {end:%H:%M}"
    return f"between {_day(start)} {start:%H:%M} and {_day(end)} {end:%H:%M}"


def _moment(at: datetime, zone: ZoneInfo) -> str:
    local = at.astimezone(zone)
    return f"{_day(local)} {local:%H:%M}"


def _day(local: date) -> str:
    return f"{_DAYS[local.weekday()]} {local.day} {_MONTHS[local.month - 1]}"


def _listed(things: Sequence[str]) -> str:
    *most, last = things
    return f"{', '.join(most)} and {last}" if most else last
