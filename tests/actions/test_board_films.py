"""Film that is down is on the board until it has set: whoever told what of it, whatever week it was laid in."""

from datetime import date

import pytest

from dispatch.actions import holds, planning, reporting, show_board
from dispatch.records.models import Account, Job, Outfit, Person, Stage, Week
from dispatch.trade import units
from tests.actions import plans

pytestmark = pytest.mark.django_db
PORT = "j1.port-as-she-lies"


@pytest.fixture
def coat():
    return plans.coat(plans.outfit())


def laid(day: int, clock: str) -> Stage:
    """Have port told done at a moment; nobody told when it was begun."""
    Outfit.objects.update(stands_at=plans.at(day, clock))
    stage = Stage.objects.get(key="port-as-she-lies")
    stage.state, stage.ended_at = "done", plans.at(day, clock)
    stage.save()
    holds.write(stage, plans.at(day, clock), planned=False)
    return stage


def strip(plan) -> list[tuple[str, str]]:
    (row,) = show_board.board(plan).boats
    return [(one.kind, one.words) for one in row.segments]


def test_a_coat_told_done_without_its_start_is_wet(coat):
    laid(24, "11:30")
    kinds = strip(plans.draft([]))
    assert [kind for kind, _ in kinds] == ["wet", "setting"]
    assert kinds[0][1].startswith("wet: keep off; rain-safe about Mon 16:3")


def test_it_is_told_so_by_the_crew_with_one_tap(coat):
    rook = Person.objects.get(key="rook")
    made = plans.draft([(24, "09:30", "11:45", [(PORT, "10:00", "11:30")])])
    planning.post(made, by=plans.owner())
    Outfit.objects.update(stands_at=plans.at(24, "11:35"))
    reporting.finish(Stage.objects.get(key="port-as-she-lies"), rook, plans.at(24, "11:30"))  # fmt: skip
    made.refresh_from_db()
    kinds = [kind for kind, _ in strip(made)]
    assert "wet" in kinds
    assert "setting" in kinds


def test_one_coat_alone_is_wet_and_watched_before_the_second_is_on(coat, client):
    """Rain that comes while the first coat is on warns at once, not when the visit was to end."""
    made = plans.draft([(24, "09:30", "11:45", [(PORT, "10:00", "11:30")])])
    planning.post(made, by=plans.owner())
    rook = Person.objects.get(key="rook")
    stage = Stage.objects.select_related("job__boat__place", "sheet").get(key="port-as-she-lies")  # fmt: skip
    Outfit.objects.update(stands_at=plans.at(24, "10:50"))
    reporting.start(stage, rook, plans.at(24, "10:00"))
    stage.refresh_from_db()
    reporting.coat_on(stage, rook, plans.at(24, "10:45"))
    rain = coat.boat.place.forecasts.latest().hours.filter(at=plans.at(24, "12:00"))
    rain.update(rain_mm=2.0, rain_prob_pct=90)
    made.refresh_from_db()
    board = show_board.board(made)
    first = min(board.boats[0].films, key=lambda film: film.laid_at)
    assert first.laid_at == plans.at(24, "10:45")
    (snag,) = [one for one in board.snags if "film is wet" in one.sentence]
    assert "rain (90 %) comes Mon 12:00" in snag.sentence
    # Hands are on her, and the answer at the board's head speaks of her film all the same.
    client.force_login(Account.objects.get(role="owner"))
    page = client.get("/week/").text
    assert "Second Wind: wet, with hands on her; rain-safe about Mon 1" in page
    assert "nothing now" not in page.lower()


def test_film_that_is_too_cold_to_set_says_so_and_has_no_date(coat):
    """A14: at 49 F throughout, and nothing below 50 F counts."""
    place = coat.boat.place
    for made in place.forecasts.all():
        made.hours.update(air_c=units.f_to_c(49), cloud_pct=100)
    laid(24, "11:30")
    board = show_board.board(plans.draft([]))
    (one,) = board.boats[0].segments
    assert (one.kind, one.words) == (
        "wet",
        "wet: keep off; it will not set by this forecast: too cold",
    )
    told = " ".join(show_board.text(board))
    assert "it will not set by this forecast: too cold" in told


def next_week() -> Week:
    return Week.objects.create(starts_on=date(2027, 5, 31))


def of_next_week():
    plan = plans.draft([])
    plan.week = next_week()
    plan.zero_at = None
    plan.save()
    return plan


def test_film_of_the_weekend_that_sets_still_is_on_the_next_weeks_board(coat):
    laid(30, "16:00")
    kinds = strip(of_next_week())
    assert kinds
    assert {kind for kind, _ in kinds} <= {"wet", "setting"}


def test_of_a_boat_that_is_not_planned_at_all_too(coat):
    laid(24, "11:30")
    plan = plans.draft([])
    plan.problem = plan.problem | {"jobs": [], "stages": []}
    Job.objects.update(state="put-off")
    plan.save()
    assert [kind for kind, _ in strip(plan)] == ["wet", "setting"]


def test_what_has_set_before_the_week_is_not(coat):
    laid(24, "11:30")
    plan = of_next_week()
    assert strip(plan) == []
