"""Where cans are kept: chosen by the owner, kept when one is opened, taken out and in with the list."""

import pytest

from dispatch.actions import cans, kept_in, reporting
from dispatch.records.models import Account, Can, HistoryEntry, Sheet, Van
from dispatch.trade import units
from tests.actions import posted

pytestmark = pytest.mark.django_db


@pytest.fixture
def stage():
    job = posted.sprayed()
    found = job.stages.get(key="port")
    posted.visit(posted.van_day(posted.person("rook")), found, "11:00", 90)
    posted.stand("13:00")
    return found


@pytest.fixture
def owner():
    return Account.objects.create(username="orla", role="owner")


def new(**given):
    sealed = {"sheet": "one", "count": 2, "left_ml": units.oz_to_ml(32)}
    return sealed | {"opened_on": None, "kept_in": None} | given


def test_it_is_chosen_among_vans_and_places_and_told_in_words(stage, owner):
    words = dict(kept_in.choices())
    assert words["van:knot"] == "van Knot"
    assert list(words)[1] == "place:s0"
    can = cans.add(new(kept_in="place:s0"), by=owner)
    assert (cans.values(can)["kept_in"], kept_in.said(can)) == ("place:s0", "Shop")
    told = cans.change(can, cans.values(can) | {"kept_in": "van:knot"}, by=owner)
    assert told == ("“Kept in” now van Knot (was Shop)",)
    assert "“Kept in” now van Knot (was Shop)" in HistoryEntry.objects.get(verb="set-can").sentence  # fmt: skip
    can.refresh_from_db()
    assert (can.van.key, can.place) == ("knot", None)
    cans.change(can, cans.values(can) | {"kept_in": None}, by=owner)
    can.refresh_from_db()
    assert kept_in.said(can) == "nobody entered where"


def test_a_can_that_is_opened_stays_where_it_was(stage, owner):
    cans.add(new(kept_in="van:knot"), by=owner)
    rider = stage.visit.van_day.team.get()
    reporting.finish(stage, rider, posted.at("12:40"), 10)
    rows = Can.objects.order_by("left_ml")
    assert [round(units.ml_to_oz(row.left_ml)) for row in rows] == [22, 32]
    assert {row.van.key for row in rows} == {"knot"}


def test_cans_of_a_van_that_is_gone_are_kept_and_said_to_be_nowhere_known(stage, owner):
    other = Van.objects.get()
    other.pk, other.key = None, "gone"
    other.save()
    can = cans.add(new(kept_in="van:gone"), by=owner)
    other.delete()
    can = Can.objects.get(pk=can.pk)
    assert kept_in.said(can) == "nobody entered where"
    assert Sheet.objects.get(key="one").cans.count() == 1
