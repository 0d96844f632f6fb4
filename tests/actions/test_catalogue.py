"""The stage catalogue: what a boat takes by it, what a step may be set to, and who may."""

import pytest

from dispatch.actions import book, catalogue, sweeping
from dispatch.actions.errors import Refused, Stale, Stranger
from dispatch.records.models import Account, CatalogueRow, HistoryEntry, JobKind
from tests.actions import posted, shop

pytestmark = pytest.mark.django_db


@pytest.fixture
def owner():
    shop.outfit()
    shop.catalogue()
    return Account.objects.create(username="orla", role="owner")


def step(kind, name):
    return CatalogueRow.objects.filter(kind__key=kind, name=name).first()


def rows_of(key):
    kind = JobKind.objects.get(key=key)
    return tuple(row for one in catalogue.visits(kind) for row in one.rows)


# Worked examples of the trade (labour-minutes of a 20 ft centre console, two coats, with medium repairs):
# 1,394 at grade 2 with one repair, about 23.2 hours; 19.6, 26.9 and 32.6 hours at grades 1, 3 and 4.
@pytest.mark.parametrize(
    ("grade", "medium", "hours"),
    [(1, 0, 19.6), (2, 1, 23.2), (3, 1, 26.9), (4, 2, 32.6)],
)
def test_a_twenty_foot_spray_coat_takes_what_the_worked_example_says(
    owner, grade, medium, hours
):
    minutes = catalogue.labour_minutes(
        rows_of("spray-coat"), feet=20, grade=grade, medium_repairs=medium
    )
    assert round(minutes / 60, 1) == hours
    if grade == 2:
        assert minutes == 1394


def test_a_twenty_foot_wax_at_grade_three_takes_905_minutes(owner):
    # 65 + 20 x 42 by the trade's own sum.
    minutes = catalogue.labour_minutes(
        rows_of("oxidation"), feet=20, grade=3, medium_repairs=0
    )
    assert minutes == 905


def test_every_step_of_the_catalogue_belongs_to_a_visit(owner):
    for kind in JobKind.objects.all():
        assert len(rows_of(kind.key)) == kind.rows.count()


def test_a_change_reaches_new_jobs_and_those_in_the_book(owner):
    kind = JobKind.objects.get(key="wash")
    job = book.take_job(key="j1", boat=shop.boat(shop.driveway()), kind=kind)
    sweeping.sweep()
    before = {s["name"]: s["labour_minutes"] for s in job.stages.get().steps}
    assert before["Wash"] == 80
    catalogue.change_row(step("wash", "Wash"), {"per_ft_2": 5.0}, by=owner)
    assert job.stages.get().steps[1]["labour_minutes"] == 80
    sweeping.sweep()
    assert job.stages.get().steps[1]["labour_minutes"] == 100
    told = HistoryEntry.objects.get(verb="refigure").sentence
    assert "1 of its stages, from 175 to 195 labour-minutes" in told


def test_nothing_different_leaves_no_line_and_no_work(owner):
    catalogue.change_row(step("wash", "Wash"), {"per_ft_2": 4.0}, by=owner)
    assert not HistoryEntry.objects.filter(verb="set").exists()


def test_spraying_with_one_alone_is_refused(owner):
    # Two people at least for all spray work: gun and hose (common practice).
    with pytest.raises(Refused, match="two people"):
        catalogue.change_row(
            step("spray-coat", "Coat 1, port"), {"crew_min": 1}, by=owner
        )


def test_a_team_may_be_moved_with_both_its_ends(owner):
    row = step("wash", "Wash")
    with pytest.raises(Refused, match="above the team at most"):
        catalogue.change_row(row, {"crew_min": 3}, by=owner)
    row = catalogue.change_row(row, {"crew_min": 3, "crew_max": 4}, by=owner)
    assert (row.crew_min, row.crew_max) == (3, 4)


def test_what_was_not_seen_is_not_written_over(owner):
    row = step("wash", "Wash")
    catalogue.change_row(row, {"per_ft_1": 9.0}, by=owner)
    with pytest.raises(Stale):
        catalogue.change_row(row, {"per_ft_1": 7.0}, by=owner, seen={"per_ft_1": 3.0})
    other = catalogue.change_row(
        row, {"per_ft_2": 7.0}, by=owner, seen={"per_ft_1": 3.0, "per_ft_2": 4.0}
    )
    assert (other.per_ft_1, other.per_ft_2) == (9, 7)


def test_repairs_are_told_by_size(owner):
    row = step("gelcoat-repair", "Fill")
    given = {"per_repair": {"S": 35.0, "M": 70.0, "L": 110.0}}
    catalogue.change_row(row, given, by=owner, why="slower gel")
    entry = HistoryEntry.objects.get(verb="set")
    assert entry.sentence == (
        "Gelcoat repair, Fill: each medium repair now 70 labour-minutes (was 60)."
    )


def test_nobody_else_changes_it(owner):
    crew = posted.person("rook").account
    with pytest.raises(Stranger):
        catalogue.change_row(step("wash", "Wash"), {"per_ft_2": 5.0}, by=crew)
    with pytest.raises(Stranger):
        catalogue.change_kind(
            JobKind.objects.get(key="wash"), {"cents_per_ft": 1}, by=crew
        )
