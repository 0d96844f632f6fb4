"""What overran, and what the board offers about it beside planning anew: each priced where a change by hand does it."""

from datetime import time, timedelta

import pytest

from dispatch.actions import (
    board_reading,
    mend_over,
    mend_search,
    mends,
    overruns,
    planning,
    show_board,
)
from dispatch.records.models import (
    Account,
    Mend,
    Person,
    Skill,
    Stage,
    Van,
    Visit,
    WeekPlan,
)
from tests.actions import plans, posted

pytestmark = pytest.mark.django_db
MASK, INSIDE, PORT = "j1.mask", "j1.inside", "j1.port-as-she-lies"


@pytest.fixture
def job():
    place = plans.outfit()
    made = plans.coat(place)
    for key in ("winnie", "jonah", "pilar"):
        cleans = plans.person(key, key.title(), key[:2].upper())
        Skill.objects.create(person=cleans, name="interior")
    for rides in Person.objects.filter(key__in=("rook", "teague")):
        Skill.objects.create(person=rides, name="interior")
    hours = {"duty_start": time(6), "duty_end": time(18)}
    Van.objects.create(key="plover", name="Plover", base=place, seats=3, gear=["washer"], **hours)  # fmt: skip
    done = {"state": "done", "started_at": plans.at(22, "08:00"), "ended_at": plans.at(22, "12:00")}  # fmt: skip
    made.stages.filter(key="prep").update(**done)
    return made


def left_out(job):
    """Every other stage of hers to come, as a plan lists what it leaves out."""
    rows = job.stages.filter(variant__in=("", "as-she-lies"), state="to-do")
    return [
        {"stage": f"j1.{one.key}", "code": "no-room", "why": "No room.", "until": None}
        for one in rows
        if f"j1.{one.key}" not in (MASK, INSIDE, PORT)
    ]


@pytest.fixture
def standing(job):
    """Masking on Tuesday from eight to five to nine, her inside till noon, port behind it; posted."""
    port = job.stages.get(key="port-as-she-lies").minutes["2"] + 40
    end = f"{plans.at(25, '12:00') + timedelta(minutes=port):%H:%M}"
    stops = [(MASK, "08:00", "08:55"), (INSIDE, "09:35", "11:55"), (PORT, "12:00", end)]
    draft = plans.draft([(25, "07:30", "16:30", stops)], unplaced=left_out(job))
    planning.post(draft, by=plans.owner(), why="She wants it so.")
    return WeekPlan.objects.get(state="standing")


def told(name, **was):
    Stage.objects.filter(key=name.partition(".")[2]).update(**was)


def snags(standing, clock):
    posted.stand(clock, plans.at(25, clock).date())
    found = show_board.board(standing).snags
    return [one for one in found if one.about == f"over:{MASK}"]


def masked_until(clock):
    told(MASK, state="done", started_at=plans.at(25, "08:00"), ended_at=plans.at(25, clock))  # fmt: skip


def test_what_took_longer_is_told_with_both_lengths_and_what_comes_next(standing):
    masked_until("11:40")
    (snag,) = snags(standing, "11:45")
    assert snag.sentence.startswith(
        "“Mask and drape” took 3 h 40 instead of 55 min, 2 h 45 over. Next is “Interior and stainless”"
    )
    assert snag.anew


def test_half_an_hour_is_let_pass_and_so_is_yesterday(standing):
    masked_until("09:25")
    assert snags(standing, "09:30") == []
    masked_until("09:26")
    assert len(snags(standing, "09:30")) == 1
    posted.stand("09:27", plans.at(26, "09:27").date())
    assert [one for one in show_board.board(standing).snags if one.about == f"over:{MASK}"] == []  # fmt: skip


def test_an_end_told_later_does_not_make_it_planned_so(standing):
    told(MASK, state="under-way", started_at=plans.at(25, "08:00"))
    posted.stand("08:50", plans.at(25, "08:50").date())
    visit = Visit.objects.get(stage__key="mask")
    overruns.until(visit, plans.at(25, "11:40"), by=Account.objects.get(role="owner"))
    masked_until("11:40")
    (snag,) = snags(standing, "11:45")
    assert "instead of 55 min" in snag.sentence


def test_a_week_posted_since_has_it_in_it(standing):
    masked_until("11:40")
    WeekPlan.objects.update(posted_at=plans.at(25, "11:42"))
    standing.refresh_from_db()
    assert snags(standing, "11:45") == []


def test_hands_and_another_grade_are_offered_and_no_masking_that_is_done(standing):
    masked_until("11:40")
    (snag,) = snags(standing, "11:45")
    assert [one.about for one in snag.offers] == [f"hands:{INSIDE}", ""]
    hands, grade = snag.offers
    assert hands.words.startswith("Add hands to Interior and stainless")
    assert grade.grade == Stage.objects.get(key="mask").job.grade + 1
    assert "the price stays as agreed" in grade.words


def test_while_it_runs_the_snag_that_it_is_in_the_way_offers_the_same(standing):
    told(MASK, state="under-way", started_at=plans.at(25, "08:40"))
    (snag,) = snags(standing, "09:00")
    assert "is to begin Tue 09:35" in snag.sentence
    assert [one.about for one in snag.offers] == [f"hands:{INSIDE}", ""]


def test_the_worst_grade_offers_none_worse(standing):
    job = Stage.objects.get(key="mask").job
    job.grade = 4
    job.save()
    masked_until("11:40")
    (snag,) = snags(standing, "11:45")
    assert [one.grade for one in snag.offers] == [0]


def test_each_offer_is_priced_or_says_that_none_was_found(standing):
    masked_until("11:40")
    posted.stand("11:45", plans.at(25, "11:45").date())
    mends.price(str(standing.pk))
    kept = Mend.objects.get(snag=f"hands:{INSIDE}")
    (snag,) = snags(standing, "11:45")
    assert snag.offers[0].priced is not None
    assert snag.offers[0].priced.words == kept.words
    assert kept.words.startswith("Interior and stainless" if kept.ask else "No bigger")


def test_a_bigger_team_that_is_free_may_take_it_in_another_van(standing):
    masked_until("09:30")
    posted.stand("09:31", plans.at(25, "09:31").date())
    found = list(mend_over.more_hands(board_reading.read(standing), INSIDE))
    assert found
    for ask, answer in found:
        assert (ask["van"], ask["day"], len(ask["who"])) == ("plover", "2027-05-25", 3)
        assert answer.fits


def test_a_part_put_on_another_day_lies_on_a_later_one(standing):
    reading = board_reading.read(standing)
    found = [ask["day"] for ask, _ in mend_over.another_day(reading, INSIDE)]
    assert found
    assert min(found) > "2027-05-25"
    assert mend_search.knows(f"one-side:{PORT}")
    assert mend_search.knows(f"masked:{MASK}")
