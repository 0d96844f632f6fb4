"""Options are typed, complete, and refused with a sentence."""

import pytest

from dispatch.hooks.manifest import InvalidOption, Option
from tests.hooks.strangers import manifest

MANIFEST = manifest(
    options=(
        Option(name="folder", kind="text", says="the folder the files lie in"),
        Option(name="margin", kind="number", says="a factor", default=1.25),
        Option(name="screens", kind="yes-no", says="whether it counts", default=False),
    )
)


def test_defaults_fill_in() -> None:
    given = MANIFEST.validate({"folder": "sky"})
    assert given == {"folder": "sky", "margin": 1.25, "screens": False}


def test_a_whole_number_passes_as_a_number() -> None:
    margin = MANIFEST.validate({"folder": "sky", "margin": 2})["margin"]
    assert isinstance(margin, float)


@pytest.mark.parametrize(
    ("given", "told"),
    [
        ({}, "option folder is missing: the folder the files lie in."),
        ({"folder": 5}, "option folder is 5; a text is wanted"),
        ({"folder": "sky", "margin": "wide"}, "option margin is 'wide'; a number"),
        ({"folder": "sky", "margin": True}, "option margin is True; a number"),
        ({"folder": "sky", "margin": float("nan")}, "option margin is nan; a number"),
        ({"folder": "sky", "screens": 1}, "option screens is 1; yes or no"),
        ({"folder": "sky", "roof": 1}, "no option roof; use folder, margin, screens."),
    ],
)
def test_a_wrong_option_is_told(given: dict[str, object], told: str) -> None:
    with pytest.raises(InvalidOption) as refusal:
        MANIFEST.validate(given)
    assert told in str(refusal.value)


def test_an_option_is_of_a_known_kind_and_so_is_its_default() -> None:
    with pytest.raises(ValueError, match="text, number, yes-no"):
        Option(name="colour", kind="colour", says="a colour")
    with pytest.raises(InvalidOption, match="option margin is 'wide'"):
        Option(name="margin", kind="number", says="a factor", default="wide")
