"""What a plugin says of itself before it is loaded."""

import math
from collections.abc import Mapping
from dataclasses import dataclass

KINDS: Mapping[str, type] = {"text": str, "number": float, "yes-no": bool}
_ARTICLE = {"text": "a text", "number": "a number", "yes-no": "yes or no"}


class InvalidOption(ValueError):  # noqa: N818 - it names what is wrong, not that something failed
    """An option that the manifest does not accept; the text is a sentence for a person."""


@dataclass(frozen=True, kw_only=True)
class Option:
    """One typed option: its kind is text, number or yes-no; without a default it must be given."""

    name: str
    kind: str
    says: str
    default: object = None

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
                f"option {self.name} is {value!r}; {_ARTICLE[self.kind]} is wanted: {self.says}."
            )
        return value


@dataclass(frozen=True, kw_only=True)
class Manifest:
    """A plugin's name, version, the socket it was built for, the hooks it answers, its options."""

    name: str
    version: str
    socket: int
    summary: str
    hooks: tuple[str, ...]
    options: tuple[Option, ...] = ()

    def validate(self, given: Mapping[str, object]) -> dict[str, object]:
        """The options in full, defaults filled in.

        Raises:
            InvalidOption: one is unknown, missing or of the wrong kind.
        """
        known = {option.name for option in self.options}
        for name in given:
            if name not in known:
                raise InvalidOption(
                    f"there is no option {name}; use {', '.join(sorted(known)) or 'none'}."
                )
        return {option.name: _value(option, given) for option in self.options}


def _value(option: Option, given: Mapping[str, object]) -> object:
    value = given.get(option.name, option.default)
    if value is None:
        raise InvalidOption(f"option {option.name} is missing: {option.says}.")
    return option.accept(value)
