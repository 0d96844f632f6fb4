"""The week changed by hand: a draft that can be posted and taken back, two owners who cross, pins, bumps, all held still."""

from datetime import timedelta

import pytest

from dispatch.actions import (
    bumps,
    by_hand,
    by_hand_rows,
    calling,
    pins,
    planning,
    replanning,
    snapshot,
    still,
    stood_before,
    telling,
    untold,
)
from dispatch.actions.by_hand_rows import Crossed
from dispatch.actions.errors import Refused, Stale, Stranger
from dispatch.records.models import (
    Bump,
    Customer,
    HistoryEntry,
    Job,
    Notice,
    Person,
    Pin,
    Van,
    Visit,
    Week,
    WeekPlan,
)
from tests.actions import plans
from tests.actions.test_moves import placed
from tests.web import people

pytestmark = pytest.mark.django_db


@pytest.fixture
def owner():
    return people.owner()


@pytest.fixture
def washed():
    """Return a draft that washes a boat on Tuesday morning."""
    plans.wash(plans.outfit())
    return placed()


def knot():
    return Van.objects.get(key="knot")


def both():
    return tuple(Person.objects.all())


def starts(plan):
    return {
        stop["stage"]: stop["start"]
        for row in plan.plan["van_days"]
        for stop in row["stops"]
    }


def test_trying_tells_what_it_costs_and_stores_nothing(washed):
    answer = by_hand.try_put(washed, "j1.wash", knot(), plans.at(25, "11:00"))
    assert answer.fits
    assert answer.sentence == "“Maintenance wash” on Tuesday at 11:00 with Knot"
    assert isinstance(answer.cents, int)
    assert WeekPlan.objects.count() == 1
    assert not HistoryEntry.objects.filter(verb="by-hand").exists()


def test_what_does_not_fit_springs_back_with_names_and_hours(washed):
    answer = by_hand.try_put(washed, "j1.wash", knot(), plans.at(25, "16:50"))
    assert not answer.fits
    told = " ".join(answer.why_not)
    assert "Tue" in told
    assert "knot" not in told
    assert any(name in told for name in ("Rook Ferrante", "Teague Amsel", "Knot"))


def test_a_van_with_nobody_is_given_its_team(washed, owner):
    moment = plans.at(26, "10:00")
    none = by_hand.try_put(washed, "j1.wash", knot(), moment)
    assert none.why_not == ("Knot has nobody to ride it on Wednesday. Say who goes.",)
    made = by_hand.put(washed, "j1.wash", knot(), moment, by=owner, team=both())
    assert made.plan["van_days"][0]["day"] == 2
    assert made.plan["van_days"][0]["team"] == ["rook", "teague"]


def test_it_makes_a_draft_that_can_be_posted(washed, owner):
    made = by_hand.put(washed, "j1.wash", knot(), plans.at(25, "11:00"), by=owner)
    washed.refresh_from_db()
    assert (made.state, washed.state, made.origin) == ("draft", "left", washed)
    assert (
        made.by_hand
        == "By hand: Second Wind, “Maintenance wash” on Tuesday at 11:00 with Knot."
    )
    planning.post(made, by=owner)
    assert Visit.objects.get().start == plans.at(25, "11:00")


def test_of_a_standing_week_it_makes_a_draft_and_tells_nobody(washed, owner):
    planning.post(washed, by=owner)
    washed.refresh_from_db()
    made = by_hand.put(washed, "j1.wash", knot(), plans.at(25, "11:00"), by=owner)
    washed.refresh_from_db()
    assert washed.state == "standing"
    assert made.on_version == 1
    assert Visit.objects.get().start != plans.at(25, "11:00")
    planning.post(made, by=owner)
    assert Visit.objects.get().start == plans.at(25, "11:00")


def test_the_last_change_is_taken_back(washed, owner):
    first = by_hand.put(washed, "j1.wash", knot(), plans.at(25, "11:00"), by=owner)
    second = by_hand.put(first, "j1.wash", knot(), plans.at(25, "12:00"), by=owner)
    (beneath,) = by_hand_rows.earlier(WeekPlan.objects.get(pk=second.pk))
    assert beneath.endswith("on Tuesday at 11:00 with Knot.")
    with pytest.raises(Refused, match="Take the newest change back first"):
        by_hand_rows.undo(first, by=owner)
    assert by_hand_rows.undo(second, by=owner) == first
    assert by_hand_rows.newest(washed.week) == first
    first.refresh_from_db()
    assert by_hand_rows.earlier(first) == ()
    assert by_hand_rows.undo(first, by=owner) == washed
    washed.refresh_from_db()
    assert washed.state == "draft"
    with pytest.raises(Refused, match="no change by hand"):
        by_hand_rows.undo(washed, by=owner)


def test_all_changes_are_taken_back_at_once_or_none(washed, owner):
    first = by_hand.put(washed, "j1.wash", knot(), plans.at(25, "11:00"), by=owner)
    second = by_hand.put(first, "j1.wash", knot(), plans.at(25, "12:00"), by=owner)
    with pytest.raises(Refused, match="Take the newest change back first"):
        by_hand_rows.undo_all(first, by=owner)
    assert by_hand_rows.newest(washed.week) == second
    assert by_hand_rows.undo_all(second, by=owner) == washed
    assert by_hand_rows.newest(washed.week) == washed
    assert HistoryEntry.objects.filter(verb="undo").count() == 2


def test_two_owners_cross_on_one_boat_and_the_second_sees_both(washed, owner):
    """A29: the second writer gets both; nothing is lost, and may do theirs again."""
    by_hand.put(washed, "j1.wash", knot(), plans.at(25, "11:00"), by=owner)
    with pytest.raises(Crossed, match="orla changed this boat's visits") as crossed:
        by_hand.put(washed, "j1.wash", knot(), plans.at(25, "12:00"), by=owner)
    assert "Tue 09:00" in crossed.value.seen[0]
    assert crossed.value.seen[0].endswith(", Knot")
    assert "Tue 11:00" in crossed.value.now[0]
    tip = crossed.value.tip
    again = by_hand.put(tip, "j1.wash", knot(), plans.at(25, "12:00"), by=owner)
    assert starts(again) == {"j1.wash": 2160}


def test_a_swap_that_crosses_shows_every_visit_that_was_changed(washed, owner):
    by_hand.put(washed, "j1.wash", knot(), plans.at(25, "11:00"), by=owner)
    with pytest.raises(Crossed, match="orla changed the week at") as crossed:
        by_hand.swap(washed, knot(), 1, *both(), by=owner)
    (seen,), (now,) = crossed.value.seen, crossed.value.now
    assert seen.startswith("Second Wind, Maintenance wash: Tue 09:00")
    assert now.startswith("Second Wind, Maintenance wash: Tue 11:00")
    assert now.endswith("Knot, Rook Ferrante and Teague Amsel")


def test_a_change_of_another_boat_does_not_cross(washed, owner):
    """A29: an edit of another boat from the same page passes, and both stand."""
    boat = plans.shop.boat(Job.objects.get().boat.place, key="bread", name="Bread & Butter")  # fmt: skip
    kind = plans.JobKind.objects.get(key="wash")
    other = plans.book.take_job(key="j2", boat=boat, kind=kind, unfinished_cents=9200)
    for stage in other.stages.select_related("job__boat__place"):
        plans.weather.judge(stage)
    seen = placed()
    seen.plan["unplaced"] = [{"stage": "j2.wash", "code": "no-room", "why": "x"}]
    seen.save()
    by_hand.put(seen, "j1.wash", knot(), plans.at(25, "11:00"), by=owner)
    # The second owner still has the first page, and puts the other boat in.
    both_in = by_hand.put(seen, "j2.wash", knot(), plans.at(25, "14:00"), by=owner)
    assert starts(both_in) == {"j1.wash": 1440 + 660, "j2.wash": 1440 + 840}
    with pytest.raises(Crossed):
        by_hand.put(seen, "j1.wash", knot(), plans.at(25, "12:00"), by=owner)
    assert starts(by_hand_rows.newest(seen.week)) == starts(both_in)


def test_two_in_the_very_same_moment_cannot_both_win(washed, owner):
    seen = WeekPlan.objects.get(pk=washed.pk)
    assert seen.week.edits == 0
    by_hand.put(washed, "j1.wash", knot(), plans.at(25, "11:00"), by=owner)
    with pytest.raises(Stale, match="very moment"):
        by_hand_rows.draft(seen, seen.plan, seen.problem, "x", by=owner)


def test_people_swap(washed, owner):
    rook, teague = (Person.objects.get(key=key) for key in ("rook", "teague"))
    winnie = plans.person("winnie", "Winnie Sadar", "WS")
    with pytest.raises(Refused, match="Winnie Sadar is not in this week"):
        by_hand.swap(washed, knot(), 1, rook, winnie, by=owner)
    with pytest.raises(Refused, match="Teague Amsel rides in Knot that day already"):
        by_hand.swap(washed, knot(), 1, rook, teague, by=owner)
    washed.problem = snapshot.of(washed.week)
    washed.save()
    made = by_hand.swap(washed, knot(), 1, rook, winnie, by=owner)
    assert made.plan["van_days"][0]["team"] == ["teague", "winnie"]
    assert (
        made.by_hand
        == "By hand: Winnie Sadar rides in Knot on Tuesday, not Rook Ferrante."
    )


def test_what_is_made_fast_stays_till_it_is_cast_off(washed, owner):
    pin = pins.make_fast(washed, "j1.wash", by=owner)
    assert pin.start == plans.at(25, "09:00")
    (row,) = snapshot.of(washed.week)["stages"]
    assert row["pinned"] == {"van": "knot", "start": 1980}
    with pytest.raises(Refused, match="pinned"):
        by_hand.put(washed, "j1.wash", knot(), plans.at(25, "11:00"), by=owner)
    pins.cast_off(washed, "j1.wash", by=owner)
    assert not Pin.objects.exists()
    by_hand.put(washed, "j1.wash", knot(), plans.at(25, "11:00"), by=owner)
    with pytest.raises(Refused, match="not made fast"):
        pins.cast_off(washed, "j1.wash", by=owner)


def test_a_boat_left_out_is_planned_no_more_until_she_is_taken_in(washed, owner):
    job = Job.objects.get()
    with pytest.raises(Refused, match="Say why"):
        bumps.leave_out(washed, job, by=owner, why=" ")
    made = bumps.leave_out(washed, job, by=owner, why="Her owner is away")
    assert made.plan["van_days"] == []
    assert (
        made.by_hand
        == "By hand: Second Wind is left out of this week: Her owner is away."
    )
    job.refresh_from_db()
    assert job.bumped == 1
    with pytest.raises(Refused, match="no work to plan"):
        snapshot.of(washed.week)
    bumps.take_in(washed.week, job, by=owner)
    assert snapshot.of(washed.week)["stages"]
    with pytest.raises(Refused, match="not left out"):
        bumps.take_in(washed.week, job, by=owner)


def test_taking_back_that_she_is_left_out_takes_her_in(washed, owner):
    made = bumps.leave_out(washed, Job.objects.get(), by=owner, why="rain")
    by_hand_rows.undo(made, by=owner)
    assert (Bump.objects.count(), Job.objects.get().bumped) == (0, 0)


def test_a_posted_change_is_gone_back_on_and_the_customer_told_again(washed, owner):
    """F22: undoing after notices went restores the plan and tells again instead of pretending."""
    Customer.objects.update(text_consent=True, phone="+12075550123")
    with pytest.raises(Refused, match="nothing to go back to"):
        stood_before.draft(washed.week, by=owner)
    planning.post(washed, by=owner)
    washed.refresh_from_db()
    made = by_hand.put(washed, "j1.wash", knot(), plans.at(25, "14:00"), by=owner)
    planning.post(made, by=owner)
    Notice.objects.filter(reason="arrival").update(state=Notice.State.SENT)
    back = stood_before.draft(Week.objects.get(), by=owner)
    assert starts(back) == starts(washed)
    assert Visit.objects.get().start == plans.at(25, "14:00")
    planning.post(back, by=owner)
    assert Visit.objects.get().start == plans.at(25, "09:00")
    (told,) = Notice.objects.filter(reason="moved", state=Notice.State.WAITING)
    assert told.begins_at <= plans.at(25, "09:00") <= told.ends_at


def test_going_back_takes_in_who_was_left_out_since(washed, owner):
    planning.post(washed, by=owner)
    washed.refresh_from_db()
    plans.shop.Outfit.objects.update(stands_at=plans.at(24, "06:00"))
    made = bumps.leave_out(washed, Job.objects.get(), by=owner, why="rain")
    planning.post(made, by=owner)
    assert not Visit.objects.exists()
    back = stood_before.draft(Week.objects.get(), by=owner)
    assert (Bump.objects.count(), Job.objects.get().bumped) == (1, 1)
    planning.post(back, by=owner)
    assert (Bump.objects.count(), Job.objects.get().bumped) == (0, 0)


def test_a_draft_that_leaves_her_out_and_is_left_aside_leaves_nobody_out(washed, owner):
    planning.post(washed, by=owner)
    washed.refresh_from_db()
    for _ in range(2):
        made = bumps.leave_out(washed, Job.objects.get(), by=owner, why="rain")
        assert (Bump.objects.count(), Job.objects.get().bumped) == (1, 1)
        replanning.leave(made, by=owner)
        assert (Bump.objects.count(), Job.objects.get().bumped) == (0, 0)


def test_who_is_left_out_of_a_posted_week_stays_so_when_a_draft_is_left_aside(
    washed, owner
):
    planning.post(washed, by=owner)
    washed.refresh_from_db()
    made = bumps.leave_out(washed, Job.objects.get(), by=owner, why="rain")
    planning.post(made, by=owner)
    back = stood_before.draft(Week.objects.get(), by=owner)
    replanning.leave(back, by=owner)
    assert (Bump.objects.count(), Job.objects.get().bumped) == (1, 1)


@pytest.mark.parametrize("before", [0, 1])
def test_who_is_left_out_by_hand_is_written_to_the_first_time_only(
    washed, owner, before
):
    Customer.objects.update(text_consent=True, phone="+12075550123")
    Job.objects.update(bumped=before)
    planning.post(washed, by=owner)
    washed.refresh_from_db()
    Notice.objects.filter(reason="arrival").update(state=Notice.State.SENT)
    made = bumps.leave_out(washed, Job.objects.get(), by=owner, why="rain")
    planning.post(made, by=owner)
    told = Notice.objects.filter(reason="moved").values_list("body", flat=True)
    assert ["not settled yet" in body for body in told] == [True] * (1 - before)
    asked = [why for card in calling.cards() for why in card.why]
    assert ["before once this season" in why for why in asked] == [True] * before


def test_who_was_told_that_it_is_off_is_told_once_it_stands_again(washed, owner):
    Customer.objects.update(text_consent=True, phone="+12075550123")
    planning.post(washed, by=owner)
    washed.refresh_from_db()
    Notice.objects.filter(reason="arrival").update(state=Notice.State.SENT)
    made = bumps.leave_out(washed, Job.objects.get(), by=owner, why="rain")
    planning.post(made, by=owner)
    Notice.objects.filter(reason="moved").update(state=Notice.State.SENT)
    planning.post(stood_before.draft(Week.objects.get(), by=owner), by=owner)
    (told,) = Notice.objects.filter(reason="moved", state=Notice.State.WAITING)
    assert "We will now be with you Tue 25 May between 08:45 and 09:45" in told.body
    (one,) = untold.of(WeekPlan.objects.get(state=WeekPlan.State.STANDING))
    assert one.sentence.startswith("Was told that we do not come. A message goes out")


def test_while_all_is_held_still_nothing_moves_and_nothing_leaves(
    washed, owner, monkeypatch
):
    """A40: no notice leaves and no move is made; it goes on when it is let go."""
    with pytest.raises(Refused, match="Say why"):
        still.hold(by=owner, why="")
    still.hold(by=owner, why="A boat is half sprayed")
    for act in (
        lambda: planning.post(washed, by=owner),
        lambda: by_hand.put(washed, "j1.wash", knot(), plans.at(25, "11:00"), by=owner),
        lambda: bumps.leave_out(washed, Job.objects.get(), by=owner, why="rain"),
    ):
        with pytest.raises(Refused, match=r"held still since Sun 23 May 19:00: A boat"):
            act()
    monkeypatch.setattr(telling, "_channels", lambda: pytest.fail("it sent"))
    assert telling.drain() == 0
    with pytest.raises(Refused, match="already"):
        still.hold(by=owner, why="again")
    still.go_on(by=owner)
    planning.post(washed, by=owner)
    assert Visit.objects.count() == 1


@pytest.mark.parametrize("make", [people.crew, people.nobodys])
def test_nobody_else_changes_it(washed, make):
    who = make()
    acts = (
        lambda: by_hand.put(washed, "j1.wash", knot(), plans.at(25, "11:00"), by=who),
        lambda: by_hand.swap(washed, knot(), 1, *both()[:2], by=who),
        lambda: pins.make_fast(washed, "j1.wash", by=who),
        lambda: pins.cast_off(washed, "j1.wash", by=who),
        lambda: bumps.leave_out(washed, Job.objects.get(), by=who, why="x"),
        lambda: by_hand_rows.undo(washed, by=who),
        lambda: stood_before.draft(washed.week, by=who),
        lambda: still.hold(by=who, why="x"),
        lambda: still.go_on(by=who),
    )
    for act in acts:
        with pytest.raises(Stranger):
            act()


def test_a_week_under_way_is_changed_from_now_on(washed, owner):
    planning.post(washed, by=owner)
    washed.refresh_from_db()
    visit = Visit.objects.get()
    plans.shop.Outfit.objects.update(stands_at=visit.start + timedelta(minutes=10))
    answer = by_hand.try_put(washed, "j1.wash", knot(), plans.at(25, "14:00"))
    assert answer.why_not == ("It is done or under way.",)
    gone = by_hand.try_put(washed, "j1.wash", knot(), plans.at(24, "14:00"))
    assert not gone.fits
    assert Week.objects.get().edits == 0
