"""The owner and a boat that the crew could not get to: the board's snag, planning her again, a fee of the owner's own."""

from datetime import date

import pytest

from dispatch.actions import held_boat, money, show_board, shut_out
from dispatch.actions.errors import Refused, Stale, Stranger
from dispatch.records.models import (
    Account,
    Customer,
    Extra,
    Job,
    Notice,
    Person,
    Setting,
    ShutOut,
    WeekPlan,
)
from tests.actions import pictures, plans, posted
from tests.actions.test_moves import placed

TUESDAY = date(2027, 5, 25)
pytestmark = pytest.mark.django_db


@pytest.fixture(autouse=True)
def _kept_here(settings, tmp_path):
    settings.DATA_DIR = tmp_path


@pytest.fixture
def rook():
    return posted.person("rook")


@pytest.fixture
def orla():
    return posted.person("orla", role=Account.Role.OWNER).account


@pytest.fixture
def prep(rook):
    stage = posted.sprayed().stages.get(key="prep")
    Customer.objects.update(phone="+12075550123")
    posted.visit(posted.van_day(rook), stage, "09:00", 120)
    posted.stand("09:12")
    return stage


@pytest.fixture
def row(prep, rook):
    shut_out.wait(prep, rook, posted.at("09:12"))
    shut_out.show(prep, rook, [pictures.jpeg()])
    posted.stand("09:24")
    return shut_out.leave(prep, rook, posted.at("09:24"))


def snags():
    found = show_board.board(WeekPlan.objects.get()).snags
    return [one for one in found if one.does == "shut-out"]


def test_the_board_tells_of_the_wait_and_whom_to_call(prep, rook):
    shut_out.wait(prep, rook, posted.at("09:12"))
    (snag,) = snags()
    assert snag.subject == "Second Wind"
    assert snag.sentence == "Rook cannot get to her since Mon 09:12, waits until 09:22."
    assert snag.mend == "Call Ames, +1 207 555 0123: free."


def test_the_board_tells_that_she_is_held_with_times_and_photos(row):
    (snag,) = snags()
    assert snag.sentence == (
        "Rook could not get to her Mon 09:12, waited 12 min and left 09:24: held for you, so no week plans her. 1 photo."
    )
    assert snag.photos == (row.photos.get().pk,)
    assert "say that she can be got to, or put her off" in snag.mend
    assert "Having come in vain" not in snag.mend


def test_her_posted_hours_are_shown_off_while_she_is_held():
    plans.wash(plans.outfit())
    plan = placed()
    Job.objects.update(promised_by=posted.at("17:00", TUESDAY), promise="hard")
    held = ShutOut.objects.create(
        job=Job.objects.get(),
        person=Person.objects.first(),
        since=posted.at("08:00", TUESDAY),
        until=posted.at("08:10", TUESDAY),
        left_at=posted.at("08:12", TUESDAY),
    )
    (off,) = show_board.board(plan).boats[0].segments
    assert (off.kind, off.initials) == ("held", ())
    said = "\n".join(show_board.text(show_board.board(plan)))
    assert "Maintenance wash: off, as she is held for you" in said
    assert "17:00, not kept while she is held for you" in said
    assert "Second Wind: Maintenance wash, off, as she is held for you" in said
    assert {one.used_minutes for one in show_board.board(plan).people} == {0}
    ShutOut.objects.filter(pk=held.pk).update(over_at=posted.at("08:20", TUESDAY))
    (on,) = show_board.board(plan).boats[0].segments
    assert on.kind == "hands"
    assert any(one.used_minutes for one in show_board.board(plan).people)


def test_she_is_let_go_once(row, orla):
    assert "can be got to" in held_boat.let_go(row, by=orla)
    assert snags() == []
    with pytest.raises(Stale, match="not held any more"):
        held_boat.let_go(row, by=orla)


def test_a_fee_is_the_owners_own_and_put_once(row, orla):
    with pytest.raises(Refused, match="is not set"):
        held_boat.charge(row, by=orla)
    Setting.objects.create(name="prices.in_vain_cents", value=6000)
    assert "$60.00, if you put it on her job" in snags()[0].mend
    assert not Extra.objects.exists()
    held_boat.charge(row, by=orla)
    extra = Extra.objects.get()
    assert (extra.job, extra.cents) == (row.job, 6000)
    assert extra.words == "Came in vain, Mon 24 May 09:12"
    assert money.ledger(row.job).extras == 6000
    assert "$60.00 for it is on her job." in snags()[0].sentence
    with pytest.raises(Stale, match="stands on"):
        held_boat.charge(row, by=orla)
    assert Extra.objects.count() == 1


def test_a_fee_that_was_taken_out_may_be_put_again(row, orla):
    Setting.objects.create(name="prices.in_vain_cents", value=6000)
    money.remove(held_boat.charge(row, by=orla), by=orla, why="She had told us.")
    assert ShutOut.objects.get().fee is None
    held_boat.charge(row, by=orla)
    assert Extra.objects.count() == 1


def test_who_still_waits_has_not_come_in_vain(prep, rook, orla):
    Setting.objects.create(name="prices.in_vain_cents", value=6000)
    waiting = shut_out.wait(prep, rook, posted.at("09:12"))
    with pytest.raises(Refused, match="has not left her"):
        held_boat.charge(waiting, by=orla)


def test_her_owner_is_told_once_a_day_that_the_crew_came(row, prep, rook, orla):
    with pytest.raises(Refused, match="agreed to no text and no e-mail: call by hand"):
        held_boat.tell(row, by=orla)
    Customer.objects.update(text_consent=True)
    row = ShutOut.objects.get()
    held_boat.tell(row, by=orla)
    told = Notice.objects.get(reason="came")
    assert told.body.startswith(
        "Second Wind: our crew was at Marrow Road Mon 24 May between 09:12 and 09:24 and could not get to the boat."
    )
    assert "Ames was written to of it." in snags()[0].sentence
    held_boat.let_go(row, by=orla)
    posted.stand("14:20")
    shut_out.wait(prep, rook, posted.at("14:00"))
    again = shut_out.leave(prep, rook, posted.at("14:15"))
    with pytest.raises(Stale, match="written to of that day already"):
        held_boat.tell(again, by=orla)
    assert Notice.objects.filter(reason="came").count() == 1


def test_being_shut_out_writes_nobody_by_itself(row):
    assert not Notice.objects.exists()


def test_only_the_owner_deals_with_her(row, rook):
    for act in (held_boat.let_go, held_boat.charge, held_boat.tell):
        with pytest.raises(Stranger):
            act(row, by=rook.account)
    assert ShutOut.objects.get().over_at is None
