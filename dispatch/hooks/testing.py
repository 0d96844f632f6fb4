"""What every plugin must keep to, for its author's tests."""

import re
from collections.abc import Iterator, Mapping
from datetime import UTC, datetime
from typing import Any

from dispatch.hooks import guard, registry
from dispatch.hooks.manifest import Manifest
from dispatch.hooks.registry import Found

_LONGEST_SUMMARY = 100


class Broken(AssertionError):  # noqa: N818 - the text is what is broken
    """The plugin does not keep the contract."""


def complaints(
    one: Found, options: Mapping[str, object], readme: str
) -> tuple[str, ...]:
    """Everything in which a plugin breaks the contract of the socket; empty when it keeps it.

    ``options`` are some it can be made with, ``readme`` the text of its README.
    """
    if one.manifest is None:
        return (f"{one.name} is refused: {one.refused}",)
    return (
        *_manifest(one.manifest),
        *_documented(one.manifest, readme),
        *_made(one, one.manifest, options),
    )


def answer(
    one: Found,
    options: Mapping[str, object],
    hook: str,
    ask: object,
    *,
    now: datetime | None = None,
) -> Any:  # noqa: ANN401 - which answer it is depends on the hook
    """The answer of a plugin through the guard, as the house would have it.

    Raises:
        Broken: the guard would not take it; the text is the fault that the owner would read.
    """
    moment = now or datetime(2027, 5, 24, tzinfo=UTC)
    outcome = guard.call(one, options, hook, ask, now=moment, conduct=guard.Conduct())
    if outcome.fault:
        raise Broken(outcome.fault)
    return outcome.answer


def _manifest(manifest: Manifest) -> Iterator[str]:
    if not re.fullmatch(r"\d+(\.\d+)*", manifest.version):
        yield f"version {manifest.version!r} is not digits and dots."
    if not manifest.hooks:
        yield "it answers no hook."
    if not 0 < len(manifest.summary) <= _LONGEST_SUMMARY:
        yield f"its summary is not one sentence of at most {_LONGEST_SUMMARY} characters."
    secrets = [option.name for option in manifest.options if option.kind == "secret"]
    if "hear" in manifest.hooks and manifest.signed_by not in secrets:
        yield "it answers hear, and signed_by names no secret option of its own."
    names = [option.name for option in manifest.options]
    if len(names) != len(set(names)):
        yield "two options have one name."


def _documented(manifest: Manifest, readme: str) -> Iterator[str]:
    for option in manifest.options:
        if f"| `{option.name}` |" not in readme:
            yield f"its README has no row for the option {option.name}."
    for hook in manifest.hooks:
        if f"`{hook}`" not in readme:
            yield f"its README does not name the hook {hook}."


def _made(
    one: Found, manifest: Manifest, options: Mapping[str, object]
) -> Iterator[str]:
    """What is wrong with the object it makes."""
    answered = guard.answered_hooks(registry.load(one, options))
    if answered != tuple(sorted(manifest.hooks)):
        yield f"it answers {', '.join(answered) or 'nothing'}; its manifest says {', '.join(manifest.hooks)}."
