"""A person's visits as an iCalendar object (RFC 5545, with the properties of RFC 7986)."""

from collections.abc import Mapping
from datetime import timedelta

from dispatch.hooks import calendar
from dispatch.hooks.calendar import Event
from dispatch.hooks.specs import hookimpl
from dispatch.hooks.values import PostedVisit, PublishAsk, Published
from dispatch.trade.spans import Span

# A calendar must hold something (RFC 5545, 3.6): where nothing is posted, it says so.
_NOTHING = timedelta(minutes=15)


class CalendarFeed:
    """The publish hook as one event a visit."""

    def __init__(self, title: str, refresh_minutes: int) -> None:
        self._title, self._refresh = title, refresh_minutes

    @hookimpl
    def publish(self, ask: PublishAsk) -> Published:
        """Write the visits; what the sky may not allow is tentative, and says so first."""
        heading = (
            f"NAME:{calendar.text(f'{self._title} {ask.whose}'.strip())}",
            f"REFRESH-INTERVAL;VALUE=DURATION:PT{self._refresh}M",
        )
        events = [_event(visit, ask) for visit in ask.visits] or [_none(ask)]
        return Published(
            media_type="text/calendar",
            filename="visits.ics",
            text=calendar.rendered(events, heading=heading),
        )


def make(options: Mapping[str, object]) -> CalendarFeed:
    """The plugin's object with its options."""
    minutes = int(float(str(options["refresh_minutes"])))
    return CalendarFeed(str(options["title"]), minutes)


def _event(visit: PostedVisit, ask: PublishAsk) -> Event:
    return Event(
        uid=visit.uid,
        told_at=ask.at,
        span=visit.span,
        summary=visit.title if visit.sure else f"Not sure: {visit.title}",
        description=visit.note,
        where=visit.where,
        sure=visit.sure,
    )


def _none(ask: PublishAsk) -> Event:
    return Event(
        uid=f"nothing-posted-{ask.uid}",
        told_at=ask.at,
        span=Span(ask.at, ask.at + _NOTHING),
        summary="No visit is posted for you",
    )
