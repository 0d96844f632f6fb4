"""The outlook command: a sentence in an empty house, lines in a full one."""

from io import StringIO

import pytest
from django.core.management import CommandError, call_command

from dispatch.actions import book
from dispatch.records.models import JobKind
from tests.actions import shop

pytestmark = pytest.mark.django_db


def test_an_empty_house_says_what_to_do():
    with pytest.raises(CommandError, match="no outfit yet"):
        call_command("outlook")


def test_a_stage_nobody_judged_is_told_as_unknown():
    shop.outfit()
    shop.catalogue()
    kind = JobKind.objects.get(key="wash")
    book.take_job(key="j1", boat=shop.boat(shop.driveway()), kind=kind)
    out = StringIO()
    call_command("outlook", stdout=out)
    assert "Second Wind: " in out.getvalue()
    assert "not judged yet, so unknown" in out.getvalue()
