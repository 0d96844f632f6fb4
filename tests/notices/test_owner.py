"""Rain or dew comes to film that is wet: the owner who agreed is told once, and again where it comes sooner.

Port was laid at 09:00 on Wednesday and is rain-safe about 15:42; at 11:30 rain is told for 14:00.
"""

from datetime import timedelta

import pytest

from dispatch.actions import (
    due,
    owner_told,
    plugins,
    reporting,
    settings,
    sweeping,
    telling,
)
from dispatch.records.models import (
    Account,
    Cover,
    DueWork,
    ForecastHour,
    Hold,
    Job,
    Notice,
    Outfit,
    Person,
    Stage,
)
from tests.actions import plans
from tests.journeys.test_hull_and_yard import rained_on  # noqa: F401

pytestmark = [pytest.mark.django_db, pytest.mark.timeout(120)]
ORLA = "+12075550101"


@pytest.fixture
def place(rained_on):  # noqa: F811 - the fixture
    """The owner agreed to texts; Rook, who is crew, agreed too."""
    orla = Person.objects.create(
        key="orla", name="Orla Tarrow", phone=ORLA, text_consent=True
    )
    Account.objects.create(username="orla-t", role="owner", person=orla)
    Person.objects.filter(key="rook").update(phone="+12075550103", text_consent=True)
    return rained_on


def told() -> list[str]:
    return list(Notice.objects.order_by("pk").values_list("body", flat=True))


def rain(place, day: int, clock: str) -> None:
    """Rain begins at an hour by the newest forecast, and not before."""
    begins = plans.at(day, clock)
    hours = ForecastHour.objects.filter(forecast__place=place)
    hours.filter(at__lt=begins).update(rain_mm=0, rain_prob_pct=5)
    hours.filter(at=begins).update(rain_mm=2, rain_prob_pct=90)


def stand(day: int, clock: str) -> None:
    Outfit.objects.update(stands_at=plans.at(day, clock))


def test_the_sweep_that_reckons_film_again_tells_the_owner_at_once(place):
    DueWork.objects.all().delete()
    due.put("reckon-film", place.key)
    sweeping.sweep("weather")
    notice = Notice.objects.get()
    assert (notice.to, notice.reason, notice.due_at) == (
        ORLA,
        "film-threat",
        plans.at(26, "11:30"),
    )
    assert notice.subject.endswith("comes Wed 14:00, and the film is wet")
    assert "comes Wed 14:00 by the newest forecast, and the film on the port side is wet" in notice.body  # fmt: skip
    assert "Cover the boat by Wed 26 May 13:45: ask for it on" in notice.body
    assert "must be kept from rain and dew until about Wed 26 May 15:4" in notice.body
    assert "safe" not in notice.body


def test_once_for_a_threat_and_again_where_it_comes_sooner(place):
    owner_told.at_place(place)
    owner_told.at_place(place)
    assert len(told()) == 1
    rain(place, 26, "15:00")
    owner_told.at_place(place)
    assert len(told()) == 1
    rain(place, 26, "12:00")
    owner_told.at_place(place)
    assert len(told()) == 2
    assert "comes Wed 12:00" in told()[1]
    assert Notice.objects.filter(state="waiting").count() == 1


def test_rain_that_goes_on_is_not_told_again_but_more_that_comes_is(place):
    owner_told.at_place(place)
    stand(26, "14:10")
    rain(place, 26, "14:00")
    owner_told.at_place(place)
    assert len(told()) == 1
    rain(place, 26, "15:00")
    owner_told.at_place(place)
    assert len(told()) == 2
    assert "Cover the boat by Wed 26 May 14:45" in told()[1]


def test_where_it_rains_already_she_is_to_be_covered_now(place):
    rain(place, 26, "11:00")
    owner_told.at_place(place)
    (said,) = told()
    assert "comes Wed 11:30 by" in said
    assert "Cover the boat now:" in said


def test_film_that_is_only_planned_or_dry_or_roofed_threatens_nobody(place):
    laid = Hold.objects.filter(stage__key="port-as-she-lies")
    laid.update(planned=True)
    owner_told.at_place(place)
    laid.update(planned=False, end=plans.at(26, "11:00"))
    owner_told.at_place(place)
    laid.update(end=plans.at(26, "15:42"))
    Stage.objects.filter(key="port-as-she-lies").update(cover="roof")
    owner_told.at_place(place)
    assert told() == []


def test_film_whose_end_is_not_known_is_told_of_as_not_known(place):
    Hold.objects.filter(kind="rain-safe").update(end=None)
    owner_told.at_place(place)
    (said,) = told()
    assert "Until when it must be kept from rain and dew is not known." in said


def test_the_owner_chooses_and_who_did_not_agree_is_not_written_to(place):
    Person.objects.filter(key="orla").update(text_consent=False)
    owner_told.at_place(place)
    Person.objects.filter(key="orla").update(
        text_consent=True, text_stopped_at=plans.at(26, "11:00")
    )
    owner_told.at_place(place)
    Person.objects.filter(key="orla").update(text_stopped_at=None)
    settings.change("crew.owner_told", 0.0, by=plans.owner())
    owner_told.at_place(place)
    assert told() == []


def test_a_cover_that_is_on_ends_it_and_one_asked_for_is_told_of_only_where_rain_comes_sooner(
    place,
):
    cover = Cover.objects.create(
        job=Job.objects.get(),
        asked_at=plans.at(26, "11:30"),
        by_when=plans.at(26, "13:45"),
    )
    owner_told.at_place(place)
    assert told() == []
    rain(place, 26, "13:00")
    owner_told.at_place(place)
    (said,) = told()
    assert "What can be had is asked for, and nobody has said that it is on: it must be on by Wed 26 May 12:45." in said  # fmt: skip
    Cover.objects.filter(pk=cover.pk).update(on_at=plans.at(26, "11:35"))
    rain(place, 26, "12:00")
    owner_told.at_place(place)
    assert len(told()) == 1


def test_it_goes_out_by_the_plugin_of_texts_unless_it_holds_no_more(place, tmp_path):
    out = tmp_path / "out.jsonl"
    plugins.enable("notify_file", {"file": str(out)})
    owner_told.at_place(place)
    Cover.objects.create(
        job=Job.objects.get(),
        asked_at=plans.at(26, "11:30"),
        on_at=plans.at(26, "11:30"),
    )
    assert telling.drain() == 0
    assert Notice.objects.get().said.startswith("She is covered, her film is not wet")
    Cover.objects.all().delete()
    owner_told.at_place(place)
    assert telling.drain() == 1
    assert ORLA in out.read_text()


def test_a_coat_finished_under_rain_that_is_known_is_told_of_at_once(place):
    job = Job.objects.get()
    Hold.objects.all().delete()
    owner_told.of_job(job)
    assert told() == []
    stage = job.stages.get(key="starboard-as-she-lies")
    Stage.objects.filter(pk=stage.pk).update(state="under-way")
    visit = stage.visit
    visit.start, visit.end = plans.at(26, "10:00"), plans.at(26, "11:20")
    visit.save()
    rook = Person.objects.get(key="rook")
    Account.objects.create(username="rook", role="crew", person=rook)
    reporting.finish(stage, rook, plans.at(26, "11:20"))
    (said,) = Notice.objects.filter(reason="film-threat").values_list("body", flat=True)
    assert "the film on the starboard side is wet" in said


def test_what_was_told_a_day_ago_does_not_keep_rain_of_today_from_being_told(place):
    owner_told.at_place(place)
    Notice.objects.update(
        version=(plans.at(26, "11:00") - timedelta(days=1)).isoformat()
    )
    rain(place, 26, "11:00")
    owner_told.at_place(place)
    assert len(told()) == 2
