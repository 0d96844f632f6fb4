"""Marks of a drawing: shapes with a class and presentation attributes, never a style."""

from collections.abc import Iterable, Mapping

from django.utils.html import format_html, format_html_join
from django.utils.safestring import SafeString

Number = float | int
NOTHING = SafeString("")


def _attributes(given: Mapping[str, object]) -> SafeString:
    """Attributes with their names as SVG writes them: ``cls`` is class, an underscore is a dash."""
    return format_html_join(
        "",
        ' {}="{}"',
        (
            ("class" if name == "cls" else name.replace("_", "-"), _short(value))
            for name, value in given.items()
            if value not in ("", None)
        ),
    )


def _short(value: object) -> object:
    return f"{value:.1f}".removesuffix(".0") if isinstance(value, float) else value


def mark(tag: str, **attributes: object) -> SafeString:
    """One shape: ``mark("circle", cls="notch", cx=3, cy=4, r=2)``."""
    return format_html("<{}{}/>", SafeString(tag), _attributes(attributes))


def rect(
    x: Number, y: Number, w: Number, h: Number, cls: str, **more: object
) -> SafeString:
    """A rectangle; never narrower than half a unit, so that a short stay is still seen."""
    size = {"x": x, "y": y, "width": max(w, 0.5), "height": h}
    return mark("rect", cls=cls, **size, **more)


def line(x1: Number, y1: Number, x2: Number, y2: Number, cls: str) -> SafeString:
    """A straight line."""
    return mark("line", cls=cls, x1=x1, y1=y1, x2=x2, y2=y2)


def path(d: str, cls: str, **more: object) -> SafeString:
    """A path."""
    return mark("path", cls=cls, d=d, **more)


def words(x: Number, y: Number, said: str, cls: str, anchor: str = "") -> SafeString:
    """Text at a point; ``anchor`` is start, middle or end."""
    given = {"cls": cls, "x": x, "y": y, "text_anchor": anchor}
    return format_html("<text{}>{}</text>", _attributes(given), said)


def group(
    children: Iterable[SafeString], *, title: str = "", cls: str = "", **more: object
) -> SafeString:
    """Shapes that belong together, with what a pointer resting on them is told."""
    said = format_html("<title>{}</title>", title) if title else NOTHING
    return format_html(
        "<g{}>{}{}</g>", _attributes({"cls": cls, **more}), said, joined(children)
    )


def link(children: Iterable[SafeString], *, to: str, title: str) -> SafeString:
    """Shapes that lead to another page."""
    return format_html(
        '<a href="{}" aria-label="{}"><title>{}</title>{}</a>',
        to,
        title,
        title,
        joined(children),
    )


def joined(children: Iterable[SafeString]) -> SafeString:
    """Marks one after another."""
    return format_html_join("", "{}", ((child,) for child in children))
