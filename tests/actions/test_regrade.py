"""A boat graded otherwise once the work shows her: what is left takes as long as that grade, the price stays, learning counts once."""

import pytest

from dispatch.actions import lessons, regrade, reporting, terms, took
from dispatch.actions.errors import Refused, Stranger
from dispatch.records.models import Account, HistoryEntry, Job, Stage
from dispatch.trade.words import Words
from tests.actions import posted

pytestmark = pytest.mark.django_db


@pytest.fixture
def rook():
    return posted.person("rook", "prep")


@pytest.fixture
def orla():
    return posted.person("orla", role=Account.Role.OWNER).account


@pytest.fixture
def job(rook):
    made = posted.sprayed(grade=2, price_cents=136000)
    posted.warm(made.boat.place)
    day = posted.van_day(rook)
    posted.visit(day, made.stages.get(key="prep"), "08:00", 240)
    posted.visit(day, made.stages.get(key="mask"), "12:30", 60)
    posted.stand("18:00")
    return made


def labour(job, *states):
    rows = Stage.objects.filter(job=job, state__in=states)
    return {row.key: took.labour(row) for row in rows}


def done(job, rook, start="08:00", end="17:30"):
    prep = job.stages.get(key="prep")
    reporting.start(prep, rook, posted.at(start))
    reporting.finish(job.stages.get(key="prep"), rook, posted.at(end))


def test_what_nobody_began_takes_as_long_as_the_new_grade_posted_or_not(job, orla):
    before = labour(job, "to-do")
    said = regrade.to_grade(job, 3, by=orla)
    after = labour(job, "to-do")
    assert after["prep"] > before["prep"]
    assert after["finish"] > before["finish"]
    total = f"{sum(before.values()):.0f} labour-minutes left become {sum(after.values()):.0f}"
    assert said == (
        f"Second Wind is graded 3, was 2: {total}. The price stays as agreed, $1,360.00."
    )
    assert HistoryEntry.objects.get(verb="regrade").sentence == said


def test_the_price_and_the_posted_hours_stay(job, orla):
    visit = job.stages.get(key="prep").visit
    stood = (visit.start, visit.end)
    regrade.to_grade(job, 4, by=orla)
    assert Job.objects.get().price_cents == 136000
    visit.refresh_from_db()
    assert (visit.start, visit.end) == stood


def test_asking_what_it_would_change_changes_nothing(job, orla):
    before = labour(job, "to-do")
    was, then = regrade.would(job, 3)
    assert (was, job.grade) == (pytest.approx(sum(before.values())), 2)
    assert labour(job, "to-do") == before
    regrade.to_grade(job, 3, by=orla)
    assert sum(labour(job, "to-do").values()) == pytest.approx(then)


def test_what_is_done_keeps_what_was_planned_of_it(job, rook, orla):
    done(job, rook)
    before = labour(job, "done")
    regrade.to_grade(job, 3, by=orla)
    assert labour(job, "done") == before


def learnt_of(job, grade):
    """What another job of a grade learns by."""
    other = Job.objects.filter(key="j2").first() or posted.beside(job)
    Job.objects.filter(pk=other.pk).update(grade=grade)
    return list(took.last(Job.objects.get(pk=other.pk), Words(system="us")))


def test_what_it_took_teaches_the_grade_she_is_once_and_against_its_own_minutes(
    job, rook, orla
):
    done(job, rook)
    (as_graded,) = learnt_of(job, 2)
    regrade.to_grade(job, 3, by=orla)
    assert learnt_of(job, 2) == []
    (as_found,) = learnt_of(job, 3)
    prep = job.stages.get(key="prep")
    factor = took.regraded(prep)
    assert factor > 1.2
    assert as_found.ratio == pytest.approx(as_graded.ratio / factor)
    lesson = lessons.of(Job.objects.get(key="j2"))
    assert (lesson.count, lesson.ratio) == (1, pytest.approx(as_found.ratio))
    regrade.to_grade(job, 2, by=orla)
    (again,) = learnt_of(job, 2)
    assert again.ratio == pytest.approx(as_graded.ratio)


def test_a_grade_changed_with_her_other_terms_teaches_the_same(job, rook, orla):
    done(job, rook)
    terms.change(job, {"grade": "3"}, by=orla, why="She chalks.")
    (row,) = learnt_of(job, 3)
    assert row.regraded == took.regraded(job.stages.get(key="prep")) > 1.2


@pytest.mark.parametrize("to", [0, 2, 5])
def test_no_grade_or_the_same_is_refused(job, orla, to):
    with pytest.raises(Refused, match="Nothing was changed"):
        regrade.to_grade(job, to, by=orla)
    assert Job.objects.get().grade == 2


def test_only_the_owner_regrades(job, rook):
    with pytest.raises(Stranger):
        regrade.to_grade(job, 3, by=rook.account)
    assert Job.objects.get().grade == 2
