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


@pytest.mark.parametrize(
    ("said", "told"),
    [
        (
            "Plugin mail_box: option wait_s is 0; more is wanted.",
            "“Wait s” is 0; more is wanted.",
        ),
        (
            "Plugin mail_box cannot answer: see the option hear_at.",
            "It cannot answer: see “Hear at”.",
        ),
        ("option wait is short.", "“Wait” is short."),
        ("option wait_s: a and the option wait", "“Wait s”: a and “Wait”"),
        ("the best option is to wait", "The best option is to wait"),
        ("", ""),
    ],
)
def test_a_plugins_sentence_calls_its_options_as_their_fields_are_called(said, told):
    assert plugin_words.plainly(said, "mail_box", ("wait", "wait_s", "hear_at")) == told


def test_the_first_option_a_sentence_names_is_named_first():
    said = "option taken: as the option body asks"
    assert plugin_words.named(said, ("body", "take", "taken")) == ("taken", "body")
