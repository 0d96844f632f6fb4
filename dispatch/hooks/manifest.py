"""What a plugin says of itself before it is loaded."""

import math
from collections.abc import Callable, Mapping
from dataclasses import dataclass

KINDS: Mapping[str, type] = {
    "text": str,
    "lines": str,
    "secret": str,
    "number": float,
    "yes-no": bool,
}
_ARTICLE = {
    "text": "a text",
    "lines": "a text",
    "secret": "a text",
    "number": "a number",
    "yes-no": "yes or no",
}


class InvalidOption(ValueError):  # noqa: N818 - it names what is wrong, not that something failed
    """An option that the manifest does not accept; the text is a sentence for a person."""


@dataclass(frozen=True, kw_only=True)
class Option:
    """One typed option; without a default it must be given.

    Its kind is text, lines (a text of several lines), secret (a text that is never shown back), number
    or yes-no. Where there are ``choices``, it is one of them.
    """

    name: str
    kind: str
    says: str
    default: object = None
    choices: tuple[str, ...] = ()

    def __post_init__(self) -> None:
        if self.kind not in KINDS:
            raise ValueError(f"Option {self.name}: kind is one of {', '.join(KINDS)}.")
        if self.default is not None:
            self.accept(self.default)

    def accept(self, value: object) -> object:
        """Return a value as the option's own type; a whole number passes as a number.

        Raises:
            InvalidOption: it is of another kind.
        """
        wanted = KINDS[self.kind]
        if wanted is float and isinstance(value, int) and not isinstance(value, bool):
            value = float(value)
        if not isinstance(value, wanted) or (
            isinstance(value, float) and not math.isfinite(value)
        ):
            raise InvalidOption(
                f"option {self.name} is {self._shown(value)}; {_ARTICLE[self.kind]} is wanted: {self.says}."
            )
        if self.choices and value not in self.choices:
            raise InvalidOption(
                f"option {self.name} is {self._shown(value)}; choose {' or '.join(self.choices)}."
            )
        return value

    def _shown(self, value: object) -> str:
        return "of another kind" if self.kind == "secret" else repr(value)


@dataclass(frozen=True, kw_only=True)
class Manifest:
    """A plugin's name, version, the socket it was built for, the hooks it answers, its options.

    ``channels`` are those a plugin with the hook send hands messages to; none named is every channel.
    ``once`` says that the same message may be handed over again without reaching anyone twice.
    ``signed_by`` names the secret option with which what is posted to a plugin with the hook hear is signed.
    ``check`` tells what is wrong with options that are each of their kind, in a sentence, or nothing.
    """

    name: str
    version: str
    socket: int
    summary: str
    hooks: tuple[str, ...]
    options: tuple[Option, ...] = ()
    channels: tuple[str, ...] = ()
    once: bool = False
    signed_by: str = ""
    check: Callable[[Mapping[str, object]], str] | None = None

    def validate(self, given: Mapping[str, object]) -> dict[str, object]:
        """The options in full, defaults filled in.

        Raises:
            InvalidOption: one is unknown, missing or of the wrong kind, or they do not go together.
        """
        known = {option.name for option in self.options}
        for name in given:
            if name not in known:
                raise InvalidOption(
                    f"there is no option {name}; use {', '.join(sorted(known)) or 'none'}."
                )
        whole = {option.name: _value(option, given) for option in self.options}
        if wrong := self.wrong(whole):
            raise InvalidOption(wrong)
        return whole

    def wrong(self, whole: Mapping[str, object]) -> str:
        """What its check finds wrong with options that are each of their kind, or nothing."""
        if self.check is None:
            return ""
        try:
            return str(self.check(whole))
        except Exception as error:  # noqa: BLE001 - a stranger's check may raise anything
            return f"the options cannot be checked ({type(error).__name__})."

    def secrets(self, given: Mapping[str, object]) -> tuple[str, ...]:
        """The values of the secret options that are set."""
        values = (given.get(o.name) for o in self.options if o.kind == "secret")
        return tuple(str(value) for value in values if value)


def _value(option: Option, given: Mapping[str, object]) -> object:
    value = given.get(option.name, option.default)
    if value is None:
        raise InvalidOption(f"option {option.name} is missing: {option.says}.")
    return option.accept(value)
