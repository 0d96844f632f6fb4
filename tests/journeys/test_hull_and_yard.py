"""Three days of the job, through the calls the pages use: a compass reading, a shut yard, rain that comes sooner.

The moments were worked out by a script that shares no code with the house; shade to 10 minutes, film to 10.
"""

from datetime import datetime, timedelta

import pytest

from dispatch.actions import (
    board_boats,
    board_reading,
    book,
    by_hand,
    film_sky,
    film_threat,
    holds,
    overruling,
    plugins,
    ready,
    show_board,
    show_hull,
    visit_sky,
    weather,
    windows,
)
from dispatch.actions.errors import Refused
from dispatch.records.models import (
    Account,
    Closure,
    Cover,
    Equipment,
    HistoryEntry,
    Hold,
    Job,
    Outfit,
    Person,
    Stage,
    Standing,
    Van,
    Visit,
    WeekPlan,
)
from dispatch.trade.spans import Span
from tests.actions import plans, posted, shop
from tests.journeys.asked import rest_left_out
from tests.web import people
from tests.web.owner.test_place import fields

pytestmark = pytest.mark.django_db


def near(moment: datetime, day: int, clock: str) -> bool:
    return abs(moment - plans.at(day, clock)) <= timedelta(minutes=10)


def newer(place, issued_at: str) -> None:
    """Take in the week's weather as it happened, as a forecast of that moment."""
    file = {"file": "weather_as_it_happened.csv", "issued_at": issued_at}
    plugins.enable("weather_file", plans.FORECAST | file)
    weather.take_in(place)


def test_a_phone_reads_magnetic_and_the_sides_go_by_true_north():
    """A phone reads 350 where the declination is -15.5: true 334.5; port until 12:45, starboard from 11:05, transom from 13:50."""
    shop.outfit()
    place = shop.driveway(latitude=44.080, longitude=-69.195)
    boat = shop.boat(place, heading_deg=350, heading_reference="magnetic")
    found = show_hull.of(boat, plans.at(28, "12:00"))
    assert found.sun.heading_true_deg == pytest.approx(334.5)
    today = found.days[0].shade
    assert near(today["port"][0].end, 28, "12:45")
    assert near(today["starboard"][-1].start, 28, "11:05")
    assert near(today["transom"][-1].start, 28, "13:50")


@pytest.fixture
def shut():
    """Port of a boat at a yard that is shut from Friday noon on, posted for Friday 12:30."""
    job = plans.coat(plans.outfit())
    Closure.objects.create(
        place=job.boat.place,
        start=plans.at(28, "12:00"),
        end=plans.at(31, "07:30"),
        reason="Closed to contractors over the holiday weekend",
    )
    Outfit.objects.update(stands_at=plans.at(28, "12:00"))
    stage = job.stages.get(key="port-as-she-lies")
    job.stages.filter(key__in=("prep", "mask")).update(
        state="done", ended_at=plans.at(28, "11:50")
    )
    rook = Person.objects.get(key="rook")
    made = posted.visit(
        posted.van_day(rook, day=plans.at(28, "08:00").date()), stage, "12:30", 90
    )
    newer(job.boat.place, "2027-05-28T11:00:00-04:00")
    weather.judge(stage)
    return made


def test_a_shut_yard_is_a_wall_for_the_owner_too_until_it_makes_an_exception(
    shut, client
):
    """Friday 12:30 is refused with the yard's own rule; a dated word of the yard lets it pass, and no longer than it says."""
    stage, friday = shut.stage, Span(plans.at(28, "12:00"), plans.at(28, "20:00"))
    rule = "Marrow Road is closed to us from Fri 28 May 12:00 to Mon 31 May 07:30: Closed to contractors over the holiday weekend."
    owner = plans.owner()
    assert windows.of(stage, friday) == ()
    said = ready.of(shut, plans.at(28, "12:30"))
    assert said.word == ready.NO
    assert "may not be worked at any more today" in said.sentence
    assert rule in said.sentence
    with pytest.raises(Refused, match="does not stand against this visit"):
        overruling.overrule(shut, "shut", by=owner, why="We have always worked there")
    plan = plans.draft([])
    assert put(plan, "12:30").why_not[0] == rule
    let_in(client, owner, "2027-05-28T12:00", "2027-05-28T16:00")
    weather.judge(stage)
    assert ready.of(shut, plans.at(28, "12:30")).word == ready.GO
    found = [one.span for one in windows.of(stage, friday)]
    assert max(span.end for span in found) <= plans.at(28, "16:00")
    plan = rest_left_out(plans.draft([]))
    assert put(plan, "12:30").fits
    # A coat of 70 min from 15:00 on would outlast the exception.
    assert put(plan, "15:00").why_not[0] == rule


def put(plan, clock: str):
    """What the house says to port on Friday at a time, put there by hand."""
    team = tuple(Person.objects.all())
    at = plans.at(28, clock)
    return by_hand.try_put(
        plan, "j1.port-as-she-lies", Van.objects.get(), at, team=team
    )


def let_in(client, owner, start: str, end: str) -> None:
    """The owner enters on the yard's page that it lets the crew in between two moments."""
    client.force_login(owner)
    row = {"reason": "The yard lets us finish", "kind": "let-in", "from": start, "to": end}  # fmt: skip
    sent = {f"closures.1.{name}": value for name, value in row.items()}
    client.post("/places/s5/", fields(client) | sent)
    assert set(Closure.objects.values_list("kind", flat=True)) == {"shut", "let-in"}


@pytest.fixture
def rained_on():
    """Port laid by Wednesday 09:00, starboard posted for 11:45; at 11:30 rain is told for 14:00."""
    place = plans.outfit()
    job = plans.coat(place)
    keys = ("port-as-she-lies", "starboard-as-she-lies")
    port, starboard = (job.stages.get(key=key) for key in keys)
    day = posted.van_day(
        Person.objects.get(key="rook"), day=plans.at(26, "08:00").date()
    )
    posted.visit(day, port, "07:30", 90)
    posted.visit(day, starboard, "11:45", 90)
    Outfit.objects.update(stands_at=plans.at(26, "09:05"))
    holds.write(port, plans.at(26, "09:00"), planned=False)
    book.mark_done(
        port, started_at=plans.at(26, "07:30"), ended_at=plans.at(26, "09:00")
    )
    Outfit.objects.update(stands_at=plans.at(26, "11:30"))
    newer(place, "2027-05-26T11:30:00-04:00")
    film_sky.reckon(place)
    weather.judge(starboard)
    return place


def test_rain_four_hours_sooner_holds_the_bare_side_and_leaves_the_laid_film_its_clock(
    rained_on,
):
    safe = Hold.objects.get(stage__key="port-as-she-lies", kind="rain-safe")
    assert near(safe.end, 26, "15:42")
    later = Visit.objects.get(stage__key="starboard-as-she-lies")
    span = Span(later.start, later.end)
    says = visit_sky.of(later.stage, span, plans.at(26, "11:30"))
    assert says.word == visit_sky.FORBIDS
    assert "ain" in says.why
    assert later.start == plans.at(26, "11:45")
    assert Stage.objects.get(key="port-as-she-lies").state == "done"


def test_wet_film_is_to_be_covered_before_the_rain_by_the_nearest_free_roof(rained_on):
    (cover,) = [one for one in on_the_board().snags if "film is wet" in one.sentence]
    assert "rain-safe about Wed 15:4" in cover.sentence
    assert ") comes Wed 14:00" in cover.sentence
    assert cover.mend.startswith(
        "Cover her by Wed 13:45: no roof of the outfit is free"
    )
    loft = Equipment.objects.create(
        key="loft", name="Loft", kind="canopy", towed=False, roof=True, set_minutes=35
    )
    Standing.objects.create(
        equipment=loft, place=rained_on, since=plans.at(22, "18:00")
    )
    cover = on_the_board().snags[0]
    assert "Loft, now at Marrow Road, can stand over her in 35 min" in cover.mend
    rained_on.forecasts.latest().hours.update(rain_mm=None, rain_prob_pct=None)
    reading = board_reading.read(plans.draft([]))
    (row,) = [row for where in board_boats.rows(reading) for row in where.boats]
    assert film_threat.of(reading, row, reading.now).endswith("is not known")


def on_the_board():
    """The board of a plan that has starboard at her old hour."""
    starboard = ("j1.starboard-as-she-lies", "11:45", "13:15")
    return show_board.board(plans.draft([(26, "11:00", "14:30", [starboard])]))


@pytest.fixture
def roof(rained_on):
    """A roof that stands where she lies."""
    loft = Equipment.objects.create(
        key="loft", name="Loft", kind="canopy", towed=False, roof=True, set_minutes=35
    )
    Standing.objects.create(
        equipment=loft, place=rained_on, since=plans.at(22, "18:00")
    )
    return loft


@pytest.fixture
def covered(roof, client):
    """The owner asks by the snag's one tap for the roof over her, and once more."""
    on_the_board()
    plan = WeekPlan.objects.latest("pk")
    WeekPlan.objects.filter(state="standing").update(
        problem=plan.problem, plan=plan.plan, zero_at=plan.zero_at
    )
    plan.delete()
    plan = WeekPlan.objects.get()
    client.force_login(people.owner())
    ask, asked = "/week/2027-05-24/cover/j1/", {"plan": plan.pk, "roof": "loft"}
    page = client.get("/week/").text
    assert f'action="{ask}"' in page
    # Two pairs of hands for 35 min at $38 an hour: 2 x 35 / 60 x 38 = $44.
    assert "can stand over her in 35 min, $44 of labour" in page
    client.post(ask, {"plan": plan.pk, "roof": "no-such"})
    assert not Cover.objects.exists()
    client.post(ask, asked)
    client.post(ask, asked)
    cover = Cover.objects.get()
    assert cover.by_when == plans.at(26, "13:45")
    assert "Nobody has said yet that it is on." in client.get("/week/").text
    return cover


def test_a_cover_is_asked_for_told_by_the_crew_to_be_on_and_taken_off(
    covered, roof, client
):
    """Till somebody says that she is covered she counts as open, and so she does once it is off."""
    made = round(plans.at(26, "11:20").timestamp() * 1000)
    told, off = (
        {"made_at": str(made), "ahead": "0", "told_as": "one"},
        f"uncover/{covered.pk}/",
    )
    rook = Account.objects.create(
        username="rook", role="crew", person=Person.objects.get(key="rook")
    )
    client.force_login(rook)
    assert "Cover Second Wind" in client.get("/route/").text
    client.post(f"/route/covers/{covered.pk}/", told)
    client.post(f"/route/covers/{covered.pk}/", told)
    covered.refresh_from_db()
    assert covered.on_at == plans.at(26, "11:20")
    assert Standing.objects.filter(equipment=roof, since=covered.on_at).count() == 1
    assert "Cover Second Wind" not in client.get("/route/").text
    assert client.post(f"/week/2027-05-24/{off}").status_code == 403

    client.force_login(Account.objects.get(role="owner"))
    page = client.get("/week/").text
    assert "film is wet" not in page
    assert "Loft is over her since Wed 11:20" in page
    assert "covered by Loft" in page
    assert "no rain or dew forecast" not in page
    client.post(f"/week/2027-05-24/{off}")
    assert "film is wet" in client.get("/week/").text
    said = HistoryEntry.objects.filter(verb__contains="cover").order_by("pk")
    assert [one.verb for one in said] == ["ask-cover", "cover-on", "cover-off"]
    assert said[1].actor == "Rook Ferrante"


def test_a_plan_that_takes_the_roof_from_wet_film_is_a_snag(roof):
    job = Job.objects.get(key="j1")
    Cover.objects.create(
        job=job,
        equipment=roof,
        asked_at=plans.at(26, "11:00"),
        on_at=plans.at(26, "11:20"),
    )
    plan = plans.draft([(26, "11:00", "14:30", [])])
    first = plan.plan["van_days"][0]["depart"]
    tow = {"do": "tow", "trailer": "loft", "from": "s5", "to": "s5"}
    plan.plan["van_days"][0]["stops"] = [
        tow | {"start": first + 120, "end": first + 150}
    ]
    snags = [one.sentence for one in show_board.board(plan).snags]
    assert any(
        "Loft covers her wet film to Wed 15:4" in one and "leaves her Wed 13:00" in one
        for one in snags
    )
    stays = plans.draft([])
    assert not any(
        "leaves her" in one.sentence for one in show_board.board(stays).snags
    )
