"""Visits of one boat that fall out together: every day is told, by text in one message, and it counts as giving way once.

She is washed on Friday and her second visit, to polish her, is on Saturday; both were told on the evenings before.
"""

import json
from datetime import timedelta

import pytest

from dispatch.actions import calling, job_states, planning, plugins, telling
from dispatch.hooks import guard
from dispatch.records.models import (
    Customer,
    DueWork,
    Job,
    Notice,
    Outfit,
    Visit,
    Week,
)
from tests.actions import plans, shop

pytestmark = pytest.mark.django_db
PHONE = "+12075550131"
FRIDAY = (28, "12:00", "16:00", [("j1.wash", "13:00", "14:45")])
SATURDAY = (29, "12:00", "16:00", [("j1.polish", "13:00", "14:45")])
SUNDAY = (30, "12:00", "16:00", [("j1.polish", "13:00", "14:45")])
BOTH = ["j1.wash", "j1.polish"]


@pytest.fixture
def file(tmp_path):
    """What goes out is written here."""
    place = plans.outfit()
    wash = plans.wash(place).stages.get()
    wash.pk, wash.key, wash.name, wash.position = None, "polish", "polish", 2
    wash.save()
    Customer.objects.update(phone=PHONE, text_consent=True)
    plugins.enable("notify_file", {"file": str(tmp_path / "out.jsonl")})
    return tmp_path / "out.jsonl"


@pytest.fixture
def owner(file):
    """The owner, who posted both days; the customer was told of both."""
    made = plans.owner()
    post([FRIDAY, SATURDAY], made)
    Notice.objects.exclude(reason="arrival").delete()
    Notice.objects.update(state="sent", settled_at=shop.NOW)
    return made


def post(van_days, owner, unplaced=()) -> None:
    version = sum(Week.objects.values_list("version", flat=True))
    planning.post(
        plans.draft(van_days, unplaced=unplaced, on_version=version), by=owner
    )
    Visit.objects.update(sky_says="allows")
    DueWork.objects.all().delete()


def sent(file) -> list[dict]:
    telling.drain()
    if not file.exists():
        return []
    return [json.loads(line) for line in file.read_text().splitlines()]


def test_both_days_are_told_in_one_text(file, owner):
    post([], owner, BOTH)
    assert Notice.objects.filter(reason="moved", state="waiting").count() == 2
    (told,) = sent(file)
    assert told["body"] == (
        "Second Wind: our visits of Fri 28 May and Sat 29 May at Marrow Road have moved. "
        "The new time is not settled yet; we will tell you as soon as it is. "
        "Reason: the week had to be planned anew."
    )
    rows = Notice.objects.filter(reason="moved")
    assert {(row.state, row.body) for row in rows} == {("sent", told["body"])}
    assert list(calling.cards()) == []
    post([], owner, BOTH)
    assert len(sent(file)) == 1


def test_the_new_time_is_told_once_in_place_of_both(file, owner):
    post([], owner, BOTH)
    sent(file)
    post([SUNDAY], owner, ["j1.wash"])
    _, told = sent(file)
    assert "of Fri 28 May and Sat 29 May at" in told["body"]
    assert "We will now be with you Sun 30 May between 12:45 and 13:45." in told["body"]


def test_one_that_stands_again_before_it_was_told_is_left_out(file, owner):
    Outfit.objects.update(stands_at=plans.at(26, "22:00"))
    post([], owner, BOTH)
    assert sent(file) == []
    post([SATURDAY], owner, ["j1.wash"])
    Outfit.objects.update(stands_at=plans.at(27, "08:00"))
    (told,) = sent(file)
    assert "our visit of Fri 28 May at Marrow Road has moved" in told["body"]


def test_a_letter_goes_out_for_each_as_each_is_taken_out_of_the_calendar(file, owner):
    Customer.objects.update(
        text_consent=False, email="ames@pell.test", email_consent=True
    )
    post([], owner, BOTH)
    friday, saturday = sent(file)
    assert "of Fri 28 May at" in friday["body"]
    assert "of Sat 29 May at" in saturday["body"]
    assert friday["appointment"]["uid"] != saturday["appointment"]["uid"]
    assert friday["appointment"]["cancelled"]
    assert saturday["appointment"]["cancelled"]


def test_another_day_that_falls_out_later_is_a_second_time(file, owner):
    post([SATURDAY], owner, ["j1.wash"])
    assert len(sent(file)) == 1
    post([], owner, BOTH)
    assert len([one for one in sent(file) if "Sat 29 May at" in one["body"]]) == 0
    ((why,),) = [card.why for card in calling.cards()]
    assert why.startswith("The visit to Second Wind of Sat 29 May that was told is off")
    assert "gave way before once this season" in why


def test_who_gave_way_before_is_called_about_all_the_days_at_once(file, owner):
    Job.objects.update(bumped=2)
    post([], owner, BOTH)
    assert sent(file) == []
    ((why,),) = [card.why for card in calling.cards()]
    assert why.startswith(
        "The visits to Second Wind of Fri 28 May and Sat 29 May that were told are off, and she gave way before 2 times"
    )


def test_a_text_that_was_not_taken_goes_out_as_one_again(file, owner, monkeypatch):
    post([], owner, BOTH)
    with monkeypatch.context() as busy:
        untouched = guard.Outcome(untouched=True, fault="is at work")
        busy.setattr(plugins, "ask", lambda *_: untouched)
        assert sent(file) == []
    rows = Notice.objects.filter(reason="moved")
    assert {(row.state, row.said) for row in rows} == {("waiting", "is at work")}
    rows.update(due_at=plans.at(23, "12:00"))
    assert len(sent(file)) == 1


@pytest.mark.parametrize(
    ("to", "said"),
    [
        ("called-off", "are off. Reason: the job was called off."),
        ("put-off", "have moved. The new time is not settled yet"),
    ],
)
def test_a_job_that_leaves_the_plan_is_told_with_why(file, owner, to, said):
    job_states.move(Job.objects.get(), to, by=owner, why="They sold her.")
    (told,) = sent(file)
    assert f"of Fri 28 May and Sat 29 May at Marrow Road {said}" in told["body"]
    assert told["body"].count("not settled") == (to == "put-off")


def test_a_day_that_has_come_is_not_told_with_the_other(file, owner):
    Outfit.objects.update(stands_at=plans.at(27, "22:00"))
    post([], owner, BOTH)
    Outfit.objects.update(stands_at=plans.at(28, "15:00"))
    (told,) = sent(file)
    assert "our visit of Sat 29 May at" in told["body"]
    late = Notice.objects.get(reason="moved", fact="j1 visit 2027-05-28")
    assert (late.state, late.settled_at) == ("dropped", plans.at(28, "15:00"))
    assert late.ends_at < late.settled_at + timedelta(hours=1)
