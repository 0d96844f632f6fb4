"""A price that a plugin tells stands beside the catalogue's; where none tells, the catalogue's stands and says why."""

import pytest

from dispatch.actions import (
    agreed_price,
    asked_prices,
    plugin_setting,
    sweeping,
    terms,
)
from dispatch.actions.errors import Refused, Stranger
from dispatch.hooks import registry
from dispatch.hooks.specs import hookimpl
from dispatch.hooks.values import Complaint, PriceAnswer, PriceLine
from dispatch.records.models import DueWork, HistoryEntry, Job, PluginState
from tests.actions import plans
from tests.hooks.strangers import installed
from tests.web import people

pytestmark = pytest.mark.django_db
NAME = "price_by_season"


@pytest.fixture
def owner():
    return people.owner()


@pytest.fixture
def job():
    plans.coat(plans.outfit(), price_cents=136_000, unfinished_cents=136_000)
    return again()


def again() -> Job:
    return Job.objects.select_related("boat__place", "kind", "sheet").get()


def on(owner, **options: object) -> None:
    plugin_setting.turn_on(NAME, options, by=owner)
    sweeping.sweep()


def test_without_a_plugin_it_is_the_catalogues_and_nobody_is_asked(job):
    asked_prices.all_later()
    asked_prices.later(job)
    assert not DueWork.objects.filter(verb__startswith="ask-price").exists()
    found = asked_prices.of(job)
    assert (found.by, found.why_not, found.price.cents) == ("", "", 136_000)


def test_turned_on_it_prices_what_is_in_the_book(job, owner):
    on(owner, months="5 15")
    found = asked_prices.of(again())
    assert (found.by, found.why_not) == ("Price by season", "")
    assert found.price.cents == 156_400
    assert found.price.lines[-1].words.startswith("15 % more in May (")
    assert again().price_cents == 136_000


def test_a_job_that_changed_is_priced_anew(job, owner):
    on(owner, months="5 15")
    terms.change(again(), {"grade": "3"}, by=owner)
    before = asked_prices.of(again())
    assert (before.by, before.price.cents) == ("", 156_400)
    assert "has not told a price for the job as it stands now" in before.why_not
    sweeping.sweep()
    after = asked_prices.of(again())
    assert (after.by, after.price.cents) == ("Price by season", 179_900)


def test_a_new_job_is_priced_when_it_is_taken(job, owner):
    on(owner, months="5 15")
    new = terms.blank() | {"kind": "wash", "price_cents": None}
    wash = terms.take(job.boat, new, state="asked", by=owner)
    listed = asked_prices.of(wash).price.cents
    assert wash.price_cents == listed > 0
    sweeping.sweep()
    assert asked_prices.of(wash).price.cents == round(listed * 1.15 / 100) * 100


def test_set_anew_or_turned_off_what_it_told_no_longer_holds(job, owner):
    on(owner, months="5 15")
    plugin_setting.turn_on(NAME, {"months": "5 20"}, by=owner)
    assert asked_prices.of(again()).by == ""
    sweeping.sweep()
    assert asked_prices.of(again()).price.cents == 163_200
    plugin_setting.turn_off(NAME, by=owner)
    assert asked_prices.of(again()).price.cents == 136_000


def test_it_is_agreed_by_the_owner_alone(job, owner):
    with pytest.raises(Refused, match="told anew meanwhile"):
        agreed_price.agree(job, 156_400, by=owner)
    on(owner, months="5 15")
    for make in (people.crew, people.nobodys):
        with pytest.raises(Stranger):
            agreed_price.agree(again(), 156_400, by=make())
    agreed_price.agree(again(), 156_400, by=owner)
    assert (again().price_cents, again().unfinished_cents) == (156_400, 156_400)
    told = HistoryEntry.objects.filter(verb="set-job")
    assert any("“Agreed price” now $1,564 (was $1,360)" in row.sentence for row in told)
    assert {row.why for row in told} == {"As the plugin Price by season prices it."}


class Pricer:
    """A plugin that prices as it was given to."""

    def __init__(self, does):
        self._does = does

    @hookimpl
    def price(self, ask):
        return self._does(ask)


def flat(cents):
    return lambda ask: PriceAnswer(lines=(PriceLine(words="Flat", cents=cents),))


@pytest.fixture
def install(job, monkeypatch):
    """Put plugins in the place of every other, each pricing as it is given to, and enable them."""

    def those(**does):
        made = tuple(
            installed(monkeypatch, lambda _, do=do: Pricer(do), name, "price")
            for name, do in does.items()
        )
        monkeypatch.setattr(registry, "found", lambda: made)
        for name in does:
            PluginState.objects.get_or_create(name=name, defaults={"enabled": True})

    return those


def complains(_ask):
    raise Complaint("no.")


def test_the_next_is_asked_where_the_first_has_no_price(install):
    install(first=complains, second=flat(100_000))
    asked_prices.ask("j1")
    found = asked_prices.of(again())
    assert (found.by, found.price.cents, found.why_not) == ("Second", 100_000, "")


def none(_ask):
    return PriceAnswer(lines=())


def test_one_that_has_no_price_is_no_failure_and_the_next_is_asked(install):
    install(first=none, second=flat(100_000))
    asked_prices.ask("j1")
    assert asked_prices.of(again()).by == "Second"
    install(first=none)
    PluginState.objects.filter(name="second").delete()
    asked_prices.ask("j1")
    found = asked_prices.of(again())
    assert (found.by, found.why_not, found.price.cents) == ("", "", 136_000)
    assert PluginState.objects.get(name="first").strikes == []
    asked_prices.ask_all()
    assert not DueWork.objects.filter(verb="ask-price", done_at=None).exists()


def test_what_was_told_of_the_same_stands_when_it_fails_later(install):
    install(only=flat(500))
    asked_prices.ask("j1")
    install(only=complains)
    asked_prices.ask("j1")
    found = asked_prices.of(again())
    assert found.price.cents == 500
    assert "cannot answer: no." in found.why_not
    # It is asked once more by the clock, as nobody knows whether it would tell the same.
    asked_prices.ask_all()
    assert DueWork.objects.filter(verb="ask-price", done_at=None).exists()
