"""The browser fixtures notice what they promise to notice."""

import pytest
from playwright.sync_api import Page


@pytest.fixture
def shown(page: Page) -> Page:
    page.goto("/sign-in/")
    return page


def test_an_inline_script_is_refused_and_noticed(shown, complaints):
    shown.evaluate(
        "() => { const s = document.createElement('script'); s.text = 'window.ran = 1';"
        " document.head.append(s); }"
    )
    shown.wait_for_timeout(100)
    assert shown.evaluate("() => window.ran === undefined")
    assert any("script-src" in text for text in complaints)
    complaints.clear()


def test_an_error_in_a_script_is_noticed(shown, complaints):
    with shown.expect_event("pageerror"):
        shown.evaluate("() => { setTimeout(() => { throw new Error('oh no') }, 0) }")
    assert any("oh no" in text for text in complaints)
    complaints.clear()
