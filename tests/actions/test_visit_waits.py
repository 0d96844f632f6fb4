"""Waits inside visits, planned by the coldest that a hull may be: a dull 20 ft boat with one medium repair.

Her hands take the 7 h 30 of two people that the estimate of day one has; the waits come on top. The forecast is 70 F
throughout, or 52 F: there 90 minutes of a fill are 180 and 25 between coats are 50, worked by hand.
"""

import pytest

from dispatch.actions import (
    book,
    facts,
    show_why,
    snapshot,
    visit_waits,
    why_waits,
)
from dispatch.records.models import ForecastHour, JobKind, Week
from dispatch.trade.spans import Span
from dispatch.trade.units import f_to_c
from dispatch.trade.words import Words
from tests.actions import plans
from tests.actions.plans import MONDAY

pytestmark = pytest.mark.django_db

DAYS = Span(plans.at(24, "00:00"), plans.at(27, "00:00"))


@pytest.fixture
def job():
    found = plans.coat(plans.outfit(), repairs={"M": 1})
    ForecastHour.objects.update(air_c=f_to_c(70), cloud_pct=100)
    return found


def stage(job, key):
    return job.stages.select_related("job__boat__place", "sheet").get(key=key)


def took(stage):
    return visit_waits.minutes(stage, facts.coldest_c(stage, [DAYS]))


def cold(air_f=52):
    ForecastHour.objects.update(air_c=f_to_c(air_f))


def test_the_preparation_waits_45_minutes_for_two_in_the_warm(job):
    """Stripping fills the drying after the wash, deoxidising the fill's kicking; then she dries 45 min."""
    prep = stage(job, "prep")
    assert took(prep)["2"] == prep.minutes["2"] + 45


def test_on_the_coldest_hull_that_may_be_filled_the_fill_holds_it_up(job):
    """The work asks for 60 F: 90 min at 70 F are 132 there, 3 less than deoxidising and drying take."""
    cold()
    prep = stage(job, "prep")
    assert facts.coldest_c(prep, [DAYS]) == pytest.approx(f_to_c(60))
    assert took(prep)["2"] == prep.minutes["2"] + 45
    # Three deoxidise in 65 min and then it dries 45: the fill needs 22 min more.
    assert visit_waits.idle(prep, 3, f_to_c(60)) == pytest.approx(132.2 - 65.2, abs=0.5)


def test_coats_wait_by_the_sheet_and_the_coldest_hull_of_the_week(job):
    port = stage(job, "port-as-she-lies")
    assert visit_waits.of(port, facts.coldest_c(port, [DAYS]))["2"] == 25
    cold(88)
    assert visit_waits.of(port, facts.coldest_c(port, [DAYS]))["2"] == 15
    cold()
    # Nobody sprays at 52 F: the coldest that the sheet allows is 55 F, 44.5 min.
    assert visit_waits.of(port, facts.coldest_c(port, [DAYS]))["2"] == 45


def test_a_week_problem_has_the_waits_and_says_what_of_it_they_are(job):
    week = Week.objects.create(starts_on=MONDAY)
    rows = {row["id"]: row for row in snapshot.of(week)["stages"]}
    prep, own = rows["j1.prep"], stage(job, "prep").minutes
    assert prep["waits"]["2"] >= 45
    assert prep["minutes"] == {t: own[t] + prep["waits"][t] for t in own}
    assert set(rows["j1.mask"]["waits"].values()) == {0}


def test_the_crew_reads_what_dries_and_what_is_done_meanwhile(job):
    said = " ".join(why_waits.lines(stage(job, "prep"), DAYS, Words()))
    assert (
        "Wash and rinse: she dries 30 min; meanwhile strip decals and numbers" in said
    )
    assert (
        "a fill is left 1 h 30 at 70 °F (1 h 30 at 70 °F) before it is sanded" in said
    )
    assert "meanwhile deoxidise, scrub and rinse. Keep water off it" in said
    assert (
        "Deoxidise, scrub and rinse: she dries 45 min; meanwhile nothing on the hull."
        in said
    )
    assert "Of the visit there is nothing to do for 45 min for a team of 1" in said


def test_the_owner_reads_by_which_warmth_the_week_is_planned(job):
    why = show_why.why(show_why.stage_named("j1.port-as-she-lies"), None, DAYS)
    assert "plans 25 min between the coats" in why.waits[0]
    assert "70 °F (25 min at 70 °F by the sheet)" in why.waits[0]


def test_a_washed_liner_dries_two_hours_before_the_next_visit(job):
    kind = JobKind.objects.get(key="interior")
    made = book.take_job(key="j2", boat=job.boat, kind=kind)
    assert made.stages.get(key="protect").links.get().min_minutes == 120
    assert took(stage(made, "clear")) == stage(made, "clear").minutes


def test_mildew_dwells_while_the_stainless_is_done(job):
    """Grade 2, 20 ft: stainless 60 labour-minutes, one for an hour, three for 22: 8 of the 30 min are left."""
    kind = JobKind.objects.get(key="interior")
    made = book.take_job(key="j2", boat=job.boat, kind=kind)
    protect = stage(made, "protect")
    assert visit_waits.idle(protect, 1, f_to_c(70)) == 0
    assert visit_waits.idle(protect, 3, f_to_c(70)) == pytest.approx(8.3, abs=0.1)


def test_in_the_heat_every_hour_of_work_has_ten_minutes_of_rest(job):
    """At 90 F most of the week: the preparation waits 45 min already, which is rest too, so it grows to a sixth of its hands."""
    mask = stage(job, "mask")
    assert not facts.planned_hot(mask, [DAYS])
    cold(90)
    assert facts.planned_hot(mask, [DAYS])
    hot = visit_waits.of(mask, f_to_c(90), hot=True)
    assert hot["1"] == pytest.approx(mask.minutes["1"] / 6, abs=5)
    port = stage(job, "port-as-she-lies")
    assert visit_waits.of(port, f_to_c(90), hot=True)["2"] == 15
    (why,) = why_waits.planned(mask, DAYS, Words())
    assert "10 min of rest to every hour of work" in why
    assert "in 50 % of its hours or more the air is 88 °F or above" in why
