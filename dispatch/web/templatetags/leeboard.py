"""What every page shows."""

import re
from datetime import datetime
from typing import Any

from django import template
from django.utils.timesince import timesince

from dispatch.actions import access, entries, plugin_words, skill_words
from dispatch.web import demo_clock as clock_page

register = template.Library()

_BEFORE_A_UNIT = re.compile(
    r"(?<=\d) (?=(?:°F|°C|mph|m/s|ft|oz|ml|mm|lb|kg|min|h|%|in(?=[,.;:)]|$))(?![A-Za-z]))"
)


@register.filter
def unbroken(said: object) -> str:
    """The words with a space that does not break between each number and its unit."""
    return _BEFORE_A_UNIT.sub("\N{NO-BREAK SPACE}", str(said))


@register.filter
def spaced(name: str) -> str:
    """A plugin's name as words."""
    return plugin_words.spaced(name)


@register.filter
def skill(name: str) -> str:
    """A skill in plain words."""
    return skill_words.called(name)


@register.filter
def phone(number: str) -> str:
    """A phone number in the groups it is read in."""
    return entries.grouped(number or "")


@register.filter
def ago(moment: datetime) -> str:
    """How long ago a moment was, in words."""
    said = timesince(moment)
    return "just now" if said.startswith("0") else f"{said} ago"


@register.inclusion_tag("demo_clock.html", takes_context=True)
def demo_clock(context: template.Context) -> dict[str, Any]:
    """A line that tells the demo clock's moment, with the owner's buttons; nothing on the real clock."""
    request = context.get("request")
    return {
        "clock": clock_page.standing(),
        "may_move": request is not None
        and access.is_owner(getattr(request, "user", None)),
        "request": request,
        "csrf_token": context.get("csrf_token"),
    }
