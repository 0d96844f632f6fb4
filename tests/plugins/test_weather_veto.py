"""The trade's rules come through the socket unchanged, and no sky is never fine."""

from dataclasses import replace

from dispatch.hooks import testing
from dispatch.hooks.values import VetoAnswer, VetoAsk
from dispatch.trade import window
from tests.plugins.asks import SPRAY, VETO_ASK, WEEK, found


def vetoes(ask: VetoAsk) -> VetoAnswer:
    answer: VetoAnswer = testing.answer(found("weather_veto"), {}, "vetoes", ask)
    return answer


def test_the_demo_week_is_judged_as_the_trade_judges_it() -> None:
    answer = vetoes(VETO_ASK)
    assert answer.vetoes == window.vetoes(SPRAY, VETO_ASK.sky, WEEK, "us")
    assert {"rain", "rain-soon"} <= {veto.code for veto in answer.vetoes}


def test_sentences_are_in_the_units_asked_for() -> None:
    metric = vetoes(replace(VETO_ASK, units="metric")).vetoes
    imperial = vetoes(VETO_ASK).vetoes
    assert [veto.span for veto in metric] == [veto.span for veto in imperial]
    assert any("°C" in veto.sentence for veto in metric)
    assert not any("°F" in veto.sentence for veto in metric)


def test_without_a_forecast_the_whole_span_is_unknown() -> None:
    (veto,) = vetoes(replace(VETO_ASK, sky=None)).vetoes
    assert veto.code == "unknown"
    assert veto.span == WEEK


def test_one_unknown_number_makes_its_hour_unknown() -> None:
    sky = VETO_ASK.sky
    assert sky is not None
    silent = replace(sky.hours[60], gust_ms=None)
    hours = (*sky.hours[:60], silent, *sky.hours[61:])
    answer = vetoes(replace(VETO_ASK, sky=replace(sky, hours=hours)))
    unknown = [
        veto.span
        for veto in answer.vetoes
        if veto.code == "unknown" and veto.edge == "during"
    ]
    assert len(unknown) == 1
    assert unknown[0].holds(silent.at)
