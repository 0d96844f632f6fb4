"""Twenty jobs as the snapshot really makes them are planned without a broken rule."""

import pytest

from tests.bench import catalogue_week
from tests.planner.weeks import faults, planned

pytestmark = [pytest.mark.django_db, pytest.mark.timeout(300)]


def test_a_week_of_twenty_jobs_from_the_catalogue_is_planned(settings):
    settings.PASSWORD_HASHERS = ["django.contrib.auth.hashers.MD5PasswordHasher"]
    catalogue_week.fill()
    problem = catalogue_week.problem()
    assert len(problem["jobs"]) == 20
    stages = problem["stages"]
    asked = {need["kind"] for stage in stages for need in stage["trailers"]}
    assert asked == {"canopy", "spray-trailer"}
    assert sum(bool(job["variants"]) for job in problem["jobs"]) >= 5
    plan = planned(problem, steps=150)
    assert faults(problem, plan) == []
    done = {job["id"] for job in problem["jobs"]} - {
        stage["job"]
        for stage in stages
        if stage["id"] in {left["stage"] for left in plan["unplaced"]}
    }
    assert len(done) >= 8
