"""Skills as people read them."""

import pytest

from dispatch.actions import skill_words


@pytest.mark.parametrize(
    ("skill", "said"),
    [
        ("spray-1", "one-part spray"),
        ("spray-2", "two-part spray"),
        ("hose", "hose"),
        ("fork-lift", "fork lift"),
    ],
)
def test_a_skill_is_told_in_plain_words(skill, said):
    assert skill_words.called(skill) == said
