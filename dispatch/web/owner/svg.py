"""Marks of a drawing: shapes with a class and presentation attributes, never a style."""

from collections.abc import Iterable
from html import escape

from django.utils.safestring import SafeString

Number = float | int


def _attribute(name: str, value: object) -> str:
    """One attribute, its name as SVG writes it: ``cls`` is class, an underscore is a dash."""
    if value in ("", None):
        return ""
    if isinstance(value, float):
        said = f"{value:.1f}".removesuffix(".0")
    else:
        said = escape(str(value))
    return f' {"class" if name == "cls" else name.replace("_", "-")}="{said}"'


def _attributes(given: Iterable[tuple[str, object]]) -> str:
    return "".join(_attribute(name, value) for name, value in given)


def mark(tag: str, **attributes: object) -> SafeString:
    """One shape: ``mark("circle", cls="notch", cx=3, cy=4, r=2)``."""
    return SafeString(f"<{tag}{_attributes(attributes.items())}/>")


def use(name: str) -> SafeString:
    """A drawing that stands once on the page under a name, drawn here too."""
    return mark("use", href=f"#{name}")


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
    given = (("cls", cls), ("x", x), ("y", y), ("text-anchor", anchor))
    return SafeString(f"<text{_attributes(given)}>{escape(said)}</text>")


def group(
    children: Iterable[SafeString], *, title: str = "", cls: str = "", **more: object
) -> SafeString:
    """Shapes that belong together, with what a pointer resting on them is told."""
    given = _attributes((("cls", cls), *more.items()))
    return SafeString(f"<g{given}>{_title(title)}{joined(children)}</g>")


def link(children: Iterable[SafeString], *, to: str, title: str) -> SafeString:
    """Shapes that lead to another page."""
    given = _attributes((("href", to), ("aria-label", title)))
    return SafeString(f"<a{given}>{_title(title)}{joined(children)}</a>")


def _title(said: str) -> str:
    return f"<title>{escape(said)}</title>" if said else ""


def joined(children: Iterable[SafeString]) -> SafeString:
    """Marks one after another."""
    return SafeString("".join(children))
