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
    with pytest.raises(ValueError, match="text, lines, secret, number, yes-no"):
        Option(name="colour", kind="colour", says="a colour")
    with pytest.raises(InvalidOption, match="option margin is 'wide'"):
        Option(name="margin", kind="number", says="a factor", default="wide")


GATEWAY = manifest(
    options=(
        Option(name="word", kind="secret", says="the password", default=""),
        Option(name="how", kind="text", says="the way", choices=("up", "down")),
    ),
    check=lambda given: "no word is needed to go up." if given["word"] else "",
)


def test_a_secret_of_the_wrong_kind_is_not_shown_back() -> None:
    with pytest.raises(InvalidOption) as refusal:
        GATEWAY.validate({"word": 90125, "how": "up"})
    assert "90125" not in str(refusal.value)
    assert "option word is of another kind" in str(refusal.value)


def test_what_is_not_among_the_choices_is_told() -> None:
    with pytest.raises(InvalidOption, match="how is 'left'; choose up or down"):
        GATEWAY.validate({"how": "left"})


def test_options_that_do_not_go_together_are_told() -> None:
    with pytest.raises(InvalidOption, match="no word is needed to go up"):
        GATEWAY.validate({"word": "x", "how": "up"})


def test_a_check_that_breaks_refuses_the_options() -> None:
    broken = manifest(check=lambda given: str(1 // len(given)))
    with pytest.raises(InvalidOption, match=r"cannot be checked \(ZeroDivisionError"):
        broken.validate({})


def test_only_secrets_that_are_set_are_secrets() -> None:
    assert GATEWAY.secrets({"word": "cedar", "how": "up"}) == ("cedar",)
    assert GATEWAY.secrets({"word": "", "how": "up"}) == ()
