"""What the owner asks the week: whom nobody told, which spray slots remain, what changed since they looked."""

import pytest

from dispatch.actions import board_reading, history, planning, seen, slots, untold
from dispatch.actions.errors import Stranger
from dispatch.records.models import Customer, Notice, Outfit
from tests.actions import plans
from tests.actions.test_moves import placed
from tests.web import people

pytestmark = pytest.mark.django_db


@pytest.fixture
def owner():
    return people.owner()


@pytest.fixture
def posted(owner):
    plans.wash(plans.outfit())
    plan = placed()
    planning.post(plan, by=owner)
    plan.refresh_from_db()
    return plan


def test_who_agreed_to_no_message_is_called_by_hand(posted):
    (one,) = untold.of(posted)
    assert (one.boat, one.customer, one.by_hand) == ("Second Wind", "Ames", True)
    assert one.sentence == "Neither text nor e-mail may go: call by hand."


def test_a_message_that_waits_is_told_with_its_hour_and_gone_once_it_left(owner):
    plans.wash(plans.outfit())
    Customer.objects.update(text_consent=True, phone="+12075550123")
    plan = placed()
    planning.post(plan, by=owner)
    plan.refresh_from_db()
    (one,) = untold.of(plan)
    assert one.sentence.startswith("A message goes out ")
    assert not one.by_hand
    Notice.objects.filter(reason="arrival").update(state=Notice.State.SENT)
    assert untold.of(plan) == ()


def test_of_a_draft_nobody_is_to_be_told(posted):
    posted.state = "draft"
    assert untold.of(posted) == ()


def test_slots_are_those_of_coats_without_a_visit_from_now_on():
    plans.coat(plans.outfit())
    plan = plans.draft([])
    found = slots.of(board_reading.read(plan))
    assert found
    assert all(slot.spare >= 0 and slot.minutes > 0 for slot in found)
    assert [slot.spare for slot in found] == sorted(
        (slot.spare for slot in found), reverse=True
    )
    assert {slot.free for slot in found} <= {
        ("Rook Ferrante", "Teague Amsel"),
        (),
    }
    Outfit.objects.update(stands_at=plans.at(29, "12:00"))
    later = slots.of(board_reading.read(plan))
    assert all(slot.span.start >= plans.at(29, "12:00") for slot in later)


def test_slots_that_somebody_is_free_for_come_first():
    plans.coat(plans.outfit())
    roomiest = slots.of(board_reading.read(plans.draft([])))[0].span.start.date()
    row = (roomiest.day, "07:30", "16:30", [("j1.prep", "09:30", "10:55")])
    found = slots.of(board_reading.read(plans.draft([row])))
    assert [slot.free == () for slot in found] == sorted(
        slot.free == () for slot in found
    )
    assert found[0].free
    assert found[0].span.start.date() != roomiest


def test_a_coat_that_has_its_visit_leaves_no_slot():
    plans.coat(plans.outfit())
    name = "j1.port-as-she-lies"
    row = (28, "07:30", "16:30", [(name, "09:30", "10:55")])
    found = slots.of(board_reading.read(plans.draft([row])))
    assert name not in {slot.stage for slot in found}


def test_what_changed_is_told_since_the_owner_looked(posted, owner):
    owner.refresh_from_db()
    assert seen.of(owner).since is None
    assert seen.of(owner).lines
    seen.look(by=owner)
    owner.refresh_from_db()
    assert seen.of(owner).lines == ()
    Outfit.objects.update(stands_at=plans.at(25, "06:10"))
    history.write("x", "week", "The sky turned.", actor="sky")
    assert [row.sentence for row in seen.of(owner).lines] == ["The sky turned."]
    Outfit.objects.update(stands_at=plans.at(25, "06:20"))
    history.write("x", "week", "Rook is sick.", actor="owner")
    seen.look(plans.at(25, "06:10"), by=owner)
    owner.refresh_from_db()
    assert [row.sentence for row in seen.of(owner).lines] == ["Rook is sick."]
    with pytest.raises(Stranger):
        seen.look(by=people.nobodys())
