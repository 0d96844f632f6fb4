"""A person's visits for their own calendar: written by plugins in a task, kept, and served at a private address."""

import secrets
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime, timedelta
from uuid import NAMESPACE_OID, uuid5

from django.db import transaction
from django.utils import timezone

from dispatch.actions import clock, due, history, plugins
from dispatch.actions.errors import Stranger
from dispatch.hooks.values import PostedVisit, PublishAsk
from dispatch.records.models import Account, Feed, Outfit, Person, PluginState, Visit
from dispatch.trade.spans import Span

VERB = "write-feeds"
_GONE_BY = timedelta(days=14)


@dataclass(frozen=True, kw_only=True)
class Kept:
    """One feed of a person: by which plugin, what that says of itself, its address's word (empty: none yet), and when it was last written."""

    plugin: str
    about: str
    word: str
    written_at: datetime | None


def of(person: Person) -> tuple[Kept, ...]:
    """The feeds a person may have, one for each enabled plugin that writes them."""
    rows = {row.plugin: row for row in Feed.objects.filter(person=person)}
    return tuple(
        Kept(
            plugin=state.name,
            about=plugins.about(state),
            word=rows[state.name].word if state.name in rows else "",
            written_at=rows[state.name].written_at if state.name in rows else None,
        )
        for state in plugins.enabled("publish")
    )


@transaction.atomic
def open_anew(person: Person, plugin: str, *, by: Account) -> None:
    """Give a person's feed a new address; the one before opens nothing any more.

    Raises:
        Stranger: the account is not the person's, or no such plugin writes feeds here.
    """
    if by.person_id != person.pk:
        raise Stranger("A calendar's address is made by the person it is of.")
    if plugin not in {state.name for state in plugins.enabled("publish")}:
        raise Stranger(f"No plugin {plugin} that writes calendars is turned on.")
    word = secrets.token_urlsafe(32)
    Feed.objects.update_or_create(person=person, plugin=plugin, defaults={"word": word})
    sentence = f"Made a new address for {person.name}'s calendar."
    history.write("open-feed", f"person {person.key}", sentence, by=by)
    later()


def named(word: str) -> Feed:
    """The feed an address opens.

    Raises:
        Stranger: the word is nobody's, its person has left, or its plugin is turned off.
    """
    feed = Feed.objects.filter(word=word, person__active=True).first()
    if feed is None or feed.plugin not in {s.name for s in plugins.enabled("publish")}:
        raise Stranger("This address opens no calendar. Ask for a new one.")
    return feed


def later() -> None:
    """Leave it to the worker to write every feed again."""
    if Feed.objects.exists():
        due.put(VERB, "all")


def write_all() -> None:
    """Have every feed written again; where a plugin fails what it wrote before stays, with its age."""
    for state in plugins.enabled("publish"):
        for feed in Feed.objects.filter(plugin=state.name, person__active=True):
            _write(state, feed)


def _write(state: PluginState, feed: Feed) -> None:
    outcome = plugins.ask(state, "publish", _ask(feed.person))
    if outcome.fault:
        return
    Feed.objects.filter(pk=feed.pk).update(
        media_type=outcome.answer.media_type,
        filename=outcome.answer.filename,
        text=outcome.answer.text,
        written_at=timezone.now(),
    )


def _ask(person: Person) -> PublishAsk:
    outfit = Outfit.objects.values_list("name", flat=True).get()
    return PublishAsk(
        uid=_uid(outfit, f"person {person.key}"),
        whose=person.name,
        at=clock.now(),
        visits=tuple(_visits(person, outfit)),
    )


def _visits(person: Person, outfit: str) -> Iterator[PostedVisit]:
    rows = Visit.objects.filter(
        van_day__team=person,
        van_day__plan__state="standing",
        end__gt=clock.now() - _GONE_BY,
    ).select_related("stage__job__boat__place", "van_day__van")
    for visit in rows.order_by("start"):
        yield _posted(visit, outfit)


def _posted(visit: Visit, outfit: str) -> PostedVisit:
    job, done = visit.stage.job, visit.stage.state == "done"
    return PostedVisit(
        uid=_uid(outfit, f"{job.key} {visit.stage.key}"),
        span=Span(visit.start, visit.end),
        title=f"{job.boat.name}: {visit.stage.name}",
        where=job.boat.place.name,
        note=". ".join(filter(None, (f"Van {visit.van_day.van.name}", _sky(visit)))),
        sure=done or visit.sky_says == Visit.Sky.ALLOWS,
    )


def _sky(visit: Visit) -> str:
    """What stands against a visit, or nothing."""
    if visit.stage.state == "done" or visit.sky_says == Visit.Sky.ALLOWS:
        return ""
    return f"{visit.get_sky_says_display()}: {visit.spoilt}".rstrip(": ")


def _uid(outfit: str, about: str) -> str:
    """A name for an event that no other calendar has and that stays when it is moved (RFC 7986, 5.3)."""
    return str(uuid5(NAMESPACE_OID, f"{outfit}/{about}"))
