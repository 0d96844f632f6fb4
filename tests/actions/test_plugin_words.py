"""Names as people read them."""

import pytest

from dispatch.actions import plugin_words


@pytest.mark.parametrize(
    ("name", "said"),
    [
        ("weather_file", "Weather file"),
        ("sms_http", "SMS HTTP"),
        ("user_id", "User ID"),
        ("folder", "Folder"),
        ("returning_pct", "Returning percent"),
    ],
)
def test_a_name_is_told_as_words(name, said):
    assert plugin_words.spaced(name) == said
