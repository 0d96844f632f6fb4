"""What is said beside a field: what is wrong with it, and what it stands at now; the field names both to who hears it."""

from collections.abc import Iterator
from typing import Any

from django import template
from django.utils.html import format_html, format_html_join
from django.utils.safestring import SafeString

from dispatch.web import sent_back as kept

register = template.Library()


@register.simple_tag
def marks(key: str, fault: str = "", now: str = "", also: str = "") -> SafeString:
    """The attributes of a field with an id; ``also`` is the id of what describes it anyway."""
    ids = " ".join([one for one, _, said in _sayings(key, fault, now) if said] + [also])
    invalid = ' aria-invalid="true"' if fault else ""
    described = format_html(' aria-describedby="{}"', ids.strip())
    return SafeString(invalid + (described if ids.strip() else ""))


@register.simple_tag(takes_context=True)
def sent_back(context: template.Context, *form: object) -> dict[str, Any]:
    """What was sent back to a form of this page, by the parts of its name; without one, what no form of it has taken."""
    request = context.get("request")
    return kept.take(request, "-".join(map(str, form))) if request else {}


@register.simple_tag
def beside(key: str, fault: str = "", now: str = "") -> SafeString:
    """The sentences themselves."""
    return format_html_join(
        "\n",
        '<p class="{}" id="{}">{}</p>',
        ((kind, one, said) for one, kind, said in _sayings(key, fault, now) if said),
    )


def _sayings(key: str, fault: str, now: str) -> Iterator[tuple[str, str, str]]:
    """The id, class and words of each sentence."""
    yield f"{key}-fault", "fault", fault
    yield f"{key}-now", "meanwhile", now
