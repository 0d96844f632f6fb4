"""A coat is finished: her owner is told once to keep off it, until when, and never what is not known."""

from datetime import timedelta

import pytest

from dispatch.actions import reporting, settings
from dispatch.actions.errors import Stale
from dispatch.records.models import (
    Account,
    Customer,
    HistoryEntry,
    Hold,
    JobKind,
    Notice,
    Outfit,
    Stage,
)
from tests.actions import posted

pytestmark = pytest.mark.django_db
TUESDAY = posted.MONDAY + timedelta(days=1)


@pytest.fixture
def port():
    job = posted.sprayed()
    posted.warm(job.boat.place)
    Customer.objects.update(phone="+12075550131", text_consent=True)
    stage = job.stages.get(key="port")
    posted.visit(posted.van_day(posted.person("rook")), stage, "11:00", 90)
    posted.stand("13:00")
    return stage


def finish(stage, clock="12:40", day=posted.MONDAY):
    rider = stage.visit.van_day.team.get()
    reporting.finish(stage, rider, posted.at(clock, day))


def wet():
    return Notice.objects.filter(reason="film-wet")


def test_a_finished_coat_is_told_with_the_range_it_sets_in(port):
    """Fourteen hours of cure at 70 F on a hull of 70 F, by the sheet: about 02:40, with a range around it."""
    finish(port)
    hold = Hold.objects.get(stage=port, kind="sandable")
    zone = posted.at("12:00").tzinfo
    early, late = (at.astimezone(zone) for at in (hold.earliest, hold.latest))
    assert early < posted.at("02:40", TUESDAY) < late
    assert wet().get().body == (
        "Second Wind: the film on the port side is wet. "
        "Please do not touch, wash or cover the boat, and keep sprinklers off. "
        f"We expect it to be hard enough to cover Tue 25 May between {early:%H:%M} and {late:%H:%M}; "
        "please wait for the later time."
    )


def test_it_goes_out_at_once_on_the_day(port):
    finish(port)
    assert wet().get().due_at == posted.at("13:00")


def test_each_coat_is_told_once_by_each_channel_agreed_to(port):
    Customer.objects.update(email="ames@pell.test", email_consent=True)
    finish(port)
    with pytest.raises(Stale):
        finish(port, "12:45")
    assert sorted(wet().values_list("channel", flat=True)) == ["email", "text"]


def test_a_second_coat_is_told_of_its_own(port):
    ends = port.job.stages.get(key="ends")
    posted.visit(port.visit.van_day, ends, "14:00")
    finish(port)
    posted.stand("15:10")
    finish(ends, "15:05")
    facts = wet().values_list("fact", flat=True)
    assert sorted(facts) == ["j1 film ends", "j1 film port"]
    assert "the transom and top rail" in wet().get(fact="j1 film ends").body


def test_film_whose_end_is_not_known_is_told_as_not_known(port):
    port.job.boat.place.forecasts.all().delete()
    finish(port)
    assert "We do not know yet when it can be covered" in wet().get().body


def test_a_coat_reported_at_night_waits_for_seven(port):
    posted.stand("23:10")
    finish(port, "22:00")
    assert wet().get().due_at == posted.at("07:00", TUESDAY)


def test_film_that_has_set_before_anybody_may_be_told_is_not_called_wet(port):
    """Told at 23:10 of 12:40: by 07:00 the fourteen hours at 70 F are over."""
    posted.stand("23:10")
    finish(port)
    assert not wet().exists()


def test_who_agreed_to_nothing_is_to_be_called_by_hand(port):
    Customer.objects.update(text_consent=False)
    finish(port)
    assert not wet().exists()
    said = HistoryEntry.objects.get(verb="call-by-hand").sentence
    assert "do not touch" in said
    assert said.endswith("Ames has agreed to no text and no e-mail: call by hand.")


def test_work_that_lays_no_film_tells_nothing(port):
    mask = port.job.stages.get(key="mask")
    posted.visit(port.visit.van_day, mask, "08:00")
    finish(Stage.objects.get(pk=mask.pk), "09:00")
    assert not wet().exists()


def last_coat(stage):
    """Nothing but this coat is agreed to be done on her."""
    Stage.objects.exclude(pk=stage.pk).delete()


def test_a_boat_is_to_be_collected_only_once_her_last_film_has_set(port):
    last_coat(port)
    finish(port)
    late = Hold.objects.get(stage=port, kind="sandable").latest
    told = Notice.objects.get(reason="pickup")
    local = late.astimezone(posted.at("12:00").tzinfo)
    assert f"from Tue 25 May {local:%H:%M}" in told.body


def test_nobody_is_told_to_come_while_the_film_has_no_known_end(port):
    port.job.boat.place.forecasts.all().delete()
    last_coat(port)
    finish(port)
    assert not Notice.objects.filter(reason="pickup").exists()
    assert HistoryEntry.objects.get(verb="call-by-hand").sentence == (
        "Second Wind is finished, but when its film is hard is not known. "
        "Tell Ames by hand when to come."
    )


def test_the_outfits_number_and_its_days_of_care_are_told(port):
    Outfit.objects.update(phone="+12075550100", care="Fresh water only.")
    settings.change(
        "customers.care_days",
        21.0,
        by=Account.objects.create(username="o", role="owner"),
    )
    last_coat(port)
    finish(port)
    assert wet().get().body.endswith(", +12075550100")
    told = Notice.objects.get(reason="pickup").body
    assert "For the first 21 days: Fresh water only." in told


def test_a_boat_that_was_only_washed_has_no_finish_to_care_for(port):
    JobKind.objects.filter(pk=port.job.kind_id).update(sprays=False)
    Outfit.objects.update(care="Fresh water only.")
    last_coat(port)
    finish(port)
    assert "Fresh water" not in Notice.objects.get(reason="pickup").body
