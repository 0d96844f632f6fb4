"""The tables refuse wrong rows themselves, whoever writes."""

from datetime import date, time, timedelta

import pytest
from django.db import IntegrityError, transaction

from dispatch.records import models as m
from tests.actions import shop

pytestmark = [pytest.mark.django_db, pytest.mark.services]
NOW, MONDAY = shop.NOW, date(2027, 5, 24)
LATER = NOW + timedelta(hours=1)


class Shop:
    """One right row of each table that wrong ones hang on."""

    def __init__(self):
        self.outfit, self.place = shop.outfit(), shop.driveway()
        shop.catalogue()
        self.boat = shop.boat(self.place)
        self.person = m.Person.objects.create(key="rook", name="Rook", initials="R")
        self.job = m.Job.objects.create(
            key="j1", boat=self.boat, kind=m.JobKind.objects.first(), taken_at=NOW
        )
        self.stage = m.Stage.objects.create(
            job=self.job, key="prep", name="Prep", position=1, family="prep"
        )
        self.week = m.Week.objects.create(starts_on=MONDAY)
        self.plan = self.new_plan("standing")
        self.van = m.Van.objects.create(**self.van_row())
        self.day = m.VanDay.objects.create(**self.day_row())

    def new_plan(self, state):
        return m.WeekPlan.objects.create(week=self.week, state=state, asked_at=NOW)

    def van_row(self, **changes):
        given = {
            "key": "knot",
            "name": "Knot",
            "base": self.place,
            "seats": 3,
            "duty_start": time(6),
            "duty_end": time(18),
        }
        return given | changes

    def day_row(self, **changes):
        given = {
            "plan": self.plan,
            "van": self.van,
            "on": MONDAY,
            "depart": NOW,
            "back": LATER,
        }
        return given | changes

    def override_row(self, **changes):
        given = {
            "stage": self.stage,
            "code": "sun",
            "start": NOW,
            "end": LATER,
            "strength": "owner",
            "sentence": "port is in the sun",
            "why": "A cloth hangs there.",
            "who": "Orla",
            "at": NOW,
        }
        return given | changes

    def notice(self, **changes):
        given = {
            "reason": "arrival",
            "fact": "j1 visit",
            "version": "1",
            "customer": self.boat.customer,
            "channel": "text",
            "to": "+12075550131",
            "body": "We come.",
            "due_at": NOW,
        }
        return m.Notice.objects.create(**(given | changes))

    def due(self, **changes):
        given = {"verb": "build-week", "key": "1", "due_at": NOW}
        return m.DueWork.objects.create(**(given | changes))

    def visit(self, **changes):
        given = {
            "stage": self.stage,
            "van_day": self.day,
            "start": NOW,
            "end": LATER,
        }
        return m.Visit.objects.create(**(given | changes))


def stage(s, **changes):
    given = {"job": s.job, "key": "mask", "name": "Mask", "position": 2}
    return m.Stage.objects.create(**(given | {"family": "prep"} | changes))


def twice(make):
    return lambda s: (make(s), make(s))


WRONG = {
    "outfit_only_one": lambda s: m.Outfit.objects.create(
        id=2, name="Another", time_zone="UTC"
    ),
    "person_tows_only_if_drives": lambda s: m.Person.objects.create(
        key="x", name="X", initials="X", tows=True
    ),
    "account_crew_is_a_person": lambda s: m.Account.objects.create(
        username="x", role="crew"
    ),
    "skill_level_1_to_3": lambda s: m.Skill.objects.create(
        person=s.person, name="hose", level=4
    ),
    "duty_ends_after_start": lambda s: m.Duty.objects.create(
        person=s.person, weekday=0, start=time(9), end=time(9)
    ),
    "duty_weekday_0_to_6": lambda s: m.Duty.objects.create(
        person=s.person, weekday=7, start=time(9), end=time(10)
    ),
    "day_off_both_hours_or_none": lambda s: m.DayOff.objects.create(
        person=s.person, on=MONDAY, start=time(10), end=time(9)
    ),
    "kept_apart_two_people": lambda s: m.KeptApart.objects.create(
        first=s.person, second=s.person
    ),
    "van_has_a_seat": lambda s: m.Van.objects.create(**s.van_row(key="x", seats=0)),
    "place_latitude": lambda s: m.Place.objects.create(
        key="x", name="X", latitude=90.1, longitude=0, time_zone="UTC"
    ),
    "closure_ends_after_start": lambda s: m.Closure.objects.create(
        place=s.place, start=LATER, end=NOW, reason="x"
    ),
    "sheet_solids_0_to_100": lambda s: shop.one_part(key="x", solids_pct=101),
    "sheet_dry_film_positive": lambda s: shop.one_part(key="x", dry_um=0),
    "override_of_stage_or_plan": lambda s: m.Override.objects.create(
        **s.override_row(plan=s.plan)
    ),
    "override_of_stage_has_a_span": lambda s: m.Override.objects.create(
        **s.override_row(end=NOW)
    ),
    "override_has_a_reason": lambda s: m.Override.objects.create(
        **s.override_row(why="")
    ),
    "override_of_no_wall": lambda s: m.Override.objects.create(
        **s.override_row(strength="wall")
    ),
    "drive_time_two_places": lambda s: m.DriveTime.objects.create(
        origin=s.place, destination=s.place, minutes=1, metres=1
    ),
    "sheet_air_range": lambda s: shop.one_part(air_min_c=40, air_max_c=10),
    "can_not_below_empty": lambda s: m.Can.objects.create(
        sheet=shop.one_part(), left_ml=-1
    ),
    "boat_length_2_to_60_m": lambda s: shop.boat(s.place, feet=1, key="x"),
    "boat_heading_0_to_360": lambda s: shop.boat(s.place, heading_deg=360, key="x"),
    "job_grade_1_to_4": lambda s: m.Job.objects.create(
        key="x", boat=s.boat, kind=s.job.kind, taken_at=NOW, grade=5
    ),
    "job_promise_has_a_day": lambda s: m.Job.objects.create(
        key="x", boat=s.boat, kind=s.job.kind, taken_at=NOW, promise="hard"
    ),
    "stage_done_has_an_end": lambda s: stage(s, state="done"),
    "stage_key_once_a_job": twice(stage),
    "stage_link_two_stages": lambda s: m.StageLink.objects.create(
        stage=s.stage, before=s.stage
    ),
    "week_1_to_14_days": lambda s: m.Week.objects.create(
        starts_on=date(2027, 6, 7), days=15
    ),
    "week_plan_one_standing": lambda s: s.new_plan("standing"),
    "week_plan_one_at_work": lambda s: (s.new_plan("asked"), s.new_plan("building")),
    "van_day_once": lambda s: m.VanDay.objects.create(**s.day_row()),
    "van_day_back_after_depart": lambda s: m.VanDay.objects.create(
        **s.day_row(on=date(2027, 5, 25), back=NOW - timedelta(minutes=1))
    ),
    "visit_ends_after_start": lambda s: s.visit(end=NOW),
    "a stage is visited once": twice(Shop.visit),
    "hold_ends_later": lambda s: m.Hold.objects.create(
        stage=s.stage, kind="sandable", planned=True, start=LATER, end=NOW
    ),
    "veto_ends_after_start": lambda s: m.Veto.objects.create(
        stage=s.stage, plugin="x", edge="during", start=NOW, end=NOW, code="rain"
    ),
    "forecast_once_an_issue": twice(
        lambda s: m.Forecast.objects.create(
            place=s.place, source="x", issued_at=NOW, taken_in_at=NOW
        )
    ),
    "notice_one_fact_once": twice(Shop.notice),
    "notice_goes_somewhere": lambda s: s.notice(to=""),
    "due_work_once": twice(Shop.due),
}
RIGHT = {
    "a plan at work beside the standing one": lambda s: s.new_plan("building"),
    "a second past plan": twice(lambda s: s.new_plan("past")),
    "the next version of a fact": lambda s: (s.notice(), s.notice(version="2")),
    "the same work once the first is claimed": lambda s: (
        s.due(claimed_at=NOW),
        s.due(),
    ),
    "a visit": Shop.visit,
    "a shortened day": lambda s: m.DayOff.objects.create(
        person=s.person, on=MONDAY, start=time(9), end=time(12)
    ),
}


@pytest.mark.parametrize("name", WRONG)
def test_the_table_refuses(name):
    rows = Shop()
    with pytest.raises(IntegrityError) as refusal, transaction.atomic():
        WRONG[name](rows)
    # SQLite names the columns of a unique constraint, not the constraint.
    said = str(refusal.value)
    assert name in said or "unique" in said.lower()


@pytest.mark.parametrize("name", RIGHT)
def test_the_table_takes(name):
    assert RIGHT[name](Shop())
