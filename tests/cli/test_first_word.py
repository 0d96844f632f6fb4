"""`manage.py first_word`: the word of an empty house, and none once it has its owner."""

from io import StringIO

import pytest
from django.core.management import call_command

from dispatch.actions import first_run
from tests.web import people

pytestmark = pytest.mark.django_db


def told() -> str:
    out = StringIO()
    call_command("first_word", stdout=out)
    return out.getvalue()


def test_it_prints_the_word_while_nobody_owns_the_house():
    assert told().strip() == first_run.word()
    people.owner()
    assert first_run.word() not in told()
