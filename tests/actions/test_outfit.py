"""The outfit's particulars: all or nothing, by the owner, told in the history."""

import pytest

from dispatch.actions import outfit
from dispatch.actions.errors import Refused, Stranger
from dispatch.records.models import Account, DueWork, HistoryEntry, Outfit
from tests.actions import posted, shop

pytestmark = pytest.mark.django_db


@pytest.fixture
def owner():
    return Account.objects.create(username="orla", role="owner")


def test_each_change_has_its_line_and_what_is_the_same_has_none(owner):
    shop.outfit()
    given = {"town": "Pell Harbor", "units": "us", "time_zone": "America/Halifax"}
    outfit.change(given, by=owner, why="moved")
    assert Outfit.objects.get().town == "Pell Harbor"
    assert [row.sentence for row in HistoryEntry.objects.order_by("id")] == [
        "The outfit: “Town” now Pell Harbor (was not set).",
        "The outfit: “Time zone” now America/Halifax (was America/New_York).",
    ]


def test_without_an_outfit_there_is_nothing_to_change(owner):
    with pytest.raises(Refused, match="no outfit yet"):
        outfit.change({"town": "Pell Harbor"}, by=owner)


def test_nobody_else_changes_it():
    shop.outfit()
    with pytest.raises(Stranger):
        outfit.change({"town": "Mine"}, by=posted.person("rook").account)


def test_other_units_have_every_stage_judged_again_for_its_words(owner):
    shop.outfit()
    outfit.change({"town": "Pell Harbor"}, by=owner)
    assert not DueWork.objects.exists()
    outfit.change({"units": "metric"}, by=owner)
    assert DueWork.objects.get().verb == "judge-book"
