"""A roof that must be down at 22 mph, and the demo's storm: on Saturday at 16:00 a gust of 28 mph and 0.30 in of rain.

Port is laid at 14:00 and rain-safe in the evening.
"""

import pytest

from dispatch.actions import (
    board_boats,
    board_reading,
    book,
    covers,
    film_sky,
    film_threat,
    holds,
    owner_told,
    show_board,
    struck,
    weather,
    windows,
)
from dispatch.actions.errors import Refused
from dispatch.records.models import (
    Account,
    Cover,
    Equipment,
    ForecastHour,
    HistoryEntry,
    Job,
    Notice,
    Outfit,
    Person,
    Stage,
    Standing,
)
from dispatch.trade.spans import Span
from dispatch.trade.units import mph_to_ms
from tests.actions import laid, plans, posted
from tests.journeys.test_hull_and_yard import newer

pytestmark = [pytest.mark.django_db, pytest.mark.timeout(120)]
DOWN = "must be down Sat 16:00: gust 28 mph, its limit 22 mph"


@pytest.fixture
def loft():
    return roof_beside_wet_film()


@laid.from_memory
def roof_beside_wet_film() -> Equipment:
    """A roof at the place of a boat whose port is wet on Saturday at 14:20."""
    place = plans.outfit()
    place.wind_factor = 1.0
    place.save()
    row = Equipment.objects.create(
        key="loft", name="Loft", kind="canopy", towed=False, roof=True, set_minutes=35,
        down_gust_ms=mph_to_ms(22),
    )  # fmt: skip
    Standing.objects.create(equipment=row, place=place, since=plans.at(22, "18:00"))
    job = plans.coat(place)
    port = job.stages.get(key="port-as-she-lies")
    day = posted.van_day(
        Person.objects.get(key="rook"), day=plans.at(29, "08:00").date()
    )
    posted.visit(day, port, "12:30", 90)
    Outfit.objects.update(stands_at=plans.at(29, "14:10"))
    holds.write(port, plans.at(29, "14:00"), planned=False)
    book.mark_done(
        port, started_at=plans.at(29, "12:30"), ended_at=plans.at(29, "14:00")
    )
    Outfit.objects.update(stands_at=plans.at(29, "14:20"))
    newer(place, "2027-05-29T14:15:00-04:00")
    film_sky.reckon(place)
    return row


def read():
    reading = board_reading.read(plans.draft([]))
    (row,) = [row for where in board_boats.rows(reading) for row in where.boats]
    return reading, row


def snag():
    return next(
        one for one in show_board.board(plans.draft([])).snags if "wet" in one.sentence
    )


def says() -> str:
    reading, row = read()
    return film_threat.of(reading, row, reading.now)


def sky(clock: str, **numbers: float | None) -> None:
    ForecastHour.objects.filter(at=plans.at(29, clock)).update(**numbers)


def on(loft) -> Cover:
    loft.refresh_from_db()
    return Cover.objects.create(
        job=Job.objects.get(), equipment=loft,
        asked_at=plans.at(29, "14:10"), on_at=plans.at(29, "14:15"),
    )  # fmt: skip


def ask(roof: str) -> Cover:
    reading, _ = read()
    return covers.ask(
        reading,
        Job.objects.get(),
        roof,
        by=Account.objects.filter(role="owner").first() or plans.owner(),
    )


def test_a_roof_is_not_offered_for_hours_in_which_it_must_be_down(loft):
    found = snag()
    assert (
        found.mend == f"Cover her by Sat 15:45: Loft {DOWN}, so with what can be had."
    )
    assert found.about == "cover:j1:"
    with pytest.raises(Refused, match=DOWN):
        ask("loft")
    assert ask("").equipment is None


def test_for_rain_before_the_gust_it_is_and_all_are_told_when_it_must_come_down(loft):
    sky("15:00", rain_mm=2, rain_prob_pct=90)
    found = snag()
    assert "can stand over her in 35 min" in found.mend
    assert found.mend.endswith(f"; Loft {DOWN}.")
    assert found.about == "cover:j1:loft"
    Person.objects.filter(key="rook").update(phone="+12075550103", text_consent=True)
    cover = ask("loft")
    said = HistoryEntry.objects.get(verb="ask-cover").sentence
    assert said.endswith(f"cover asked for by Sat 14:45: Loft; Loft {DOWN}.")
    assert f"Loft {DOWN}." in Notice.objects.get(reason="cover").body
    assert struck.of(cover) == f"Loft {DOWN}"


def test_film_under_it_lies_open_from_the_gust_on(loft):
    on(loft)
    assert says() == f"Loft {DOWN}, rain (90 %) Sat 16:00"
    found = snag()
    assert f"; Loft {DOWN}, and rain (90 %) comes Sat 16:00." in found.sentence
    assert "Say here that Loft is off once it is down" in found.mend
    assert "by Sat 15:45 with what can be had" in found.mend


def test_rain_before_the_gust_does_not_reach_it_and_a_lesser_gust_leaves_it(loft):
    on(loft)
    sky("15:00", rain_mm=2, rain_prob_pct=90)
    assert "Sat 15:00" not in says()
    sky("16:00", gust_ms=mph_to_ms(21.5))
    assert says() == ""
    reading, row = read()
    kept = film_threat.kept_by(reading, row, reading.now)
    assert kept.startswith("covered by Loft; gusts to 22 mph are forecast till")


def test_a_gust_nobody_forecast_is_not_known_and_never_fine(loft):
    on(loft)
    sky("16:00", gust_ms=None)
    assert says() == "what the sky brings till then is not known"
    assert "whether Loft can stay till her film is rain-safe is not known" in struck.of(
        Cover.objects.get()
    )


def test_where_nobody_entered_its_gust_that_is_what_is_said(loft):
    Equipment.objects.update(down_gust_ms=None)
    cover = on(loft)
    assert says() == ""
    assert struck.of(cover) == (
        "at which gust Loft must be down nobody has entered: ask its maker"
    )


def test_film_laid_under_a_roof_goes_by_the_one_that_must_be_down_first(loft):
    Equipment.objects.create(
        key="tall", name="Tall", kind="canopy", towed=False, roof=True,
        down_gust_ms=mph_to_ms(40),
    )  # fmt: skip
    Stage.objects.filter(key="port-as-she-lies").update(
        cover="roof", equipment=[{"kind": "canopy", "until": "rain-safe"}]
    )
    assert says().startswith(f"the roof {DOWN}, rain")
    Equipment.objects.update(active=False)
    assert says() == ""


def test_the_owner_is_told_of_film_the_roof_will_not_keep(loft):
    orla = Person.objects.create(
        key="orla", name="Orla Tarrow", phone="+12075550101", text_consent=True
    )
    Account.objects.create(username="orla-t", role="owner", person=orla)
    on(loft)
    owner_told.at_place(loft.standings.get().place)
    said = Notice.objects.get(reason="film-threat").body
    assert f"Loft {DOWN}, and rain (90 %) comes Sat 16:00" in said
    assert "is asked for" not in said


def test_a_span_under_the_roof_is_shut_where_the_storm_would_find_film_wet(loft):
    stage = Stage.objects.get(key="starboard-roofed")
    weather.judge(stage)
    saturday = Span(plans.at(29, "14:20"), plans.at(29, "16:00"))
    assert windows.of(stage, saturday) == ()
    found = windows.against(stage, saturday)
    assert any(
        "the roof must be down Sat 16:00 (gust 28 mph, its limit 22 mph)"
        in veto.sentence
        for veto in found
    )
    Equipment.objects.update(down_gust_ms=mph_to_ms(30))
    weather.judge(stage)
    assert not any("roof" in veto.sentence for veto in windows.against(stage, saturday))
