"""The catalogue's lines, and what the month, her coming back and the least add or take."""

import calendar
from collections.abc import Iterable, Iterator, Mapping

from dispatch.hooks.specs import hookimpl
from dispatch.hooks.values import PriceAnswer, PriceAsk, PriceLine
from plugins.price_by_season import months


class PriceBySeason:
    """The price hook over the catalogue's own lines."""

    def __init__(
        self, percents: Mapping[int, float], returning_pct: float, least: float
    ) -> None:
        self._percents = percents
        self._returning_pct = returning_pct
        self._least_cents = round(least * 100)

    @hookimpl
    def price(self, ask: PriceAsk) -> PriceAnswer:
        """Price a job that the catalogue prices, in whole dollars; it has no price for any other."""
        lines = [*ask.lines]
        if not lines:
            return PriceAnswer(lines=())
        lines += self._month(ask, _sum(lines))
        lines += self._returning(ask, _sum(lines))
        if (lacks := self._least_cents - _sum(lines)) > 0:
            lines.append(PriceLine(words="Up to the least a job costs", cents=lacks))
        return PriceAnswer(lines=tuple(lines))

    def _month(self, ask: PriceAsk, cents: int) -> Iterator[PriceLine]:
        """By the month of the first day promised, else of the day it is priced on; which it is is told, be it nothing more."""
        if not self._percents:
            return
        by = ask.promised[0] if ask.promised else ask.on
        percent = self._percents.get(by.month, 0.0)
        whose = "promised from" if ask.promised else "no day promised, priced"
        said = f"{_more(percent)} in {calendar.month_name[by.month]} ({whose} {by.day} {by:%B})"
        yield PriceLine(words=said, cents=_whole(cents * percent / 100))

    def _returning(self, ask: PriceAsk, cents: int) -> Iterator[PriceLine]:
        if ask.returning and self._returning_pct:
            said = f"{self._returning_pct:g} % less, as she comes back"
            yield PriceLine(
                words=said, cents=-_whole(cents * self._returning_pct / 100)
            )


def make(options: Mapping[str, object]) -> PriceBySeason:
    """The plugin's object with its options."""
    return PriceBySeason(
        months.read(str(options["months"])),
        float(str(options["returning_pct"])),
        float(str(options["least"])),
    )


def _more(percent: float) -> str:
    if not percent:
        return "Nothing more or less"
    return f"{abs(percent):g} % {'more' if percent > 0 else 'less'}"


def _sum(lines: Iterable[PriceLine]) -> int:
    return sum(line.cents for line in lines)


def _whole(cents: float) -> int:
    """To the dollar: an estimate is no truer for its cents."""
    return round(cents / 100) * 100
