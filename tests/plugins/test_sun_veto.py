"""A panel is kept out of its sun by where the sun stands, with or without a forecast.

When a side lies in shade at 44.10 N 69.10 W on 26 May, by true heading, is the worked table of the trade that
`tests/trade/test_shade.py` holds the geometry to; here the same moments, to 10 minutes, less the margin.
"""

from dataclasses import replace
from datetime import datetime, time, timedelta

import pytest

from dispatch.hooks import registry, testing
from dispatch.hooks.manifest import InvalidOption
from dispatch.trade.shade import Hull
from dispatch.trade.spans import Span
from dispatch.trade.work import Overruled, Veto
from tests.plugins.asks import NY, SPRAY, VETO_ASK, found

DAY = Span(
    datetime(2027, 5, 26, 6, tzinfo=NY), datetime(2027, 5, 26, 20, 30, tzinfo=NY)
)


def vetoes(margin: float = 0, **work: object) -> tuple[Veto, ...]:
    given = {"panels": ("port",), "hull": Hull(heading_true_deg=0)} | work
    ask = replace(VETO_ASK, work=replace(SPRAY, **given), horizon=DAY, sky=None)
    options = {"margin_minutes": margin}
    answered: tuple[Veto, ...] = testing.answer(
        found("sun_veto"), options, "vetoes", ask
    ).vetoes
    return answered


def near(at: datetime, told: str) -> bool:
    wanted = datetime.combine(at.astimezone(NY).date(), time.fromisoformat(told), NY)
    return abs(at - wanted) <= timedelta(minutes=10)


@pytest.mark.parametrize(
    ("heading", "panel", "until", "since"),
    [
        (0, "port", "13:25", ""),
        (0, "starboard", "", "11:50"),
        (90, "port", "17:35", "09:20"),
        (270, "starboard", "15:50", "07:35"),
        (180, "transom", "17:35", "07:35"),
    ],
)
def test_a_panel_is_forbidden_its_sun_without_any_forecast(
    heading, panel, until, since
):
    forbidden = vetoes(panels=(panel,), hull=Hull(heading_true_deg=heading))
    assert {veto.code for veto in forbidden} == {"sun"}
    if until:
        assert near(forbidden[-1].span.start, until)
    if since:
        assert near(forbidden[0].span.end, since)


def test_the_margin_and_the_levelling_film_come_before_the_sun():
    (bare,), (kept,) = vetoes(), vetoes(margin=20, tail_minutes=50)
    assert bare.span.start - kept.span.start == timedelta(minutes=70)
    assert kept.numbers == {"margin_minutes": 20, "tail_minutes": 50}
    assert "within 20 min" in kept.sentence


def test_the_margin_holds_after_the_sun_has_gone():
    first, later = (
        vetoes(margin=m, panels=("starboard",))[0].span.end for m in (0, 20)
    )
    assert later - first == timedelta(minutes=20)


def test_under_a_roof_and_without_panels_it_has_nothing_to_say():
    assert vetoes(cover="roof") == ()
    assert vetoes(panels=()) == ()


def test_without_a_heading_all_of_it_is_unknown():
    (veto,) = vetoes(hull=None)
    assert (veto.code, veto.strength, veto.span) == ("no-heading", "wall", DAY)


def test_what_was_overruled_stands_no_more():
    (before,) = vetoes()
    whole = Overruled(code="sun", span=DAY, excess=1.0)
    assert before.strength == "owner"
    assert vetoes(overruled=(whole,)) == ()
    assert vetoes(overruled=(replace(whole, code="rain"),)) == (before,)


def test_a_margin_that_cannot_be_meant_is_refused():
    with pytest.raises(InvalidOption, match="from 0 to 120"):
        registry.validate(found("sun_veto"), {"margin_minutes": 400})
