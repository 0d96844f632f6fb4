"""A page's forms as a browser sends them: what stands in every field."""

from dataclasses import dataclass, field
from html.parser import HTMLParser

_NEVER = {"csrfmiddlewaretoken"}
_NO_END = {"input", "br", "img", "link", "meta", "hr", "col"}


@dataclass(kw_only=True)
class Sendable:
    """A form: its attributes, what it sends, and the attributes of each field by name."""

    attributes: dict[str, str]
    sends: dict[str, str] = field(default_factory=dict)
    fields: dict[str, dict[str, str]] = field(default_factory=dict)


class _Reader(HTMLParser):
    """Reads forms, and the text of whatever has an id."""

    def __init__(self) -> None:
        super().__init__()
        self.forms: list[Sendable] = []
        self.texts: dict[str, str] = {}
        self._open: list[tuple[str, str]] = []
        self._in: Sendable | None = None
        self._area: str | None = None
        self._pick: str | None = None
        self._option = False

    def handle_starttag(self, tag, attrs):
        given = {name: value or "" for name, value in attrs}
        if tag not in _NO_END:
            self._open.append((tag, given.get("id", "")))
            self.texts.setdefault(given.get("id", ""), "")
        if tag == "form":
            self._in = Sendable(attributes=given)
            self.forms.append(self._in)
        elif self._in is not None:
            self._field(self._in, tag, given)

    def _field(self, form, tag, given):
        name = given.get("name", "")
        if name in _NEVER or tag not in ("input", "textarea", "select", "option"):
            return
        if tag == "option":
            if self._pick and (self._pick not in form.sends or "selected" in given):
                form.sends[self._pick] = given.get("value", "")
                self._option = "value" not in given
            return
        form.fields[name] = given
        if tag == "select":
            self._pick = name
        elif tag == "textarea":
            self._area, form.sends[name] = name, ""
        elif given.get("type") not in ("checkbox", "radio") or "checked" in given:
            form.sends[name] = given.get("value", "on")
            if "value" not in given and given.get("type") not in ("checkbox", "radio"):
                form.sends[name] = ""

    def handle_endtag(self, tag):
        while self._open and self._open.pop()[0] != tag:
            pass
        if tag == "form":
            self._in = None
        elif tag == "textarea":
            self._area = None
        elif tag == "select":
            self._pick = None

    def handle_data(self, data):
        for _, key in self._open:
            if key:
                self.texts[key] += data
        if self._in is not None and self._option and self._pick:
            # Without a value an option is sent as it reads.
            self._in.sends[self._pick] = data.strip()
            self._option = False
        if self._in is not None and self._area is not None:
            self._in.sends[self._area] += data


def on(page: str, **attributes: str) -> Sendable:
    """The first form of a page with some attributes; ``of`` stands for ``class``."""
    reader = _Reader()
    reader.feed(page)
    asked = {("class" if n == "of" else n): v for n, v in attributes.items()}
    return next(
        one
        for one in reader.forms
        if all(v in one.attributes.get(n, "").split("?") for n, v in asked.items())
    )


def beside(page: str, form: Sendable, name: str) -> str:
    """What is read out with a field: every sentence that its description names, and which stands on the page."""
    reader = _Reader()
    reader.feed(page)
    named = form.fields[name].get("aria-describedby", "").split()
    return " ".join(reader.texts[one].strip() for one in named)
