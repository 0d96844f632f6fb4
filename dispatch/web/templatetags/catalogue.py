"""How the stage catalogue's numbers are written."""

from django import template

from dispatch.actions.catalogue_bounds import SIZES
from dispatch.actions.per_length import PerLength
from dispatch.records.models import CatalogueRow

register = template.Library()


@register.filter
def plain(number: float) -> str:
    """A number without needless noughts."""
    return f"{number:.2f}".rstrip("0").rstrip(".")


def bare_dollars(cents: float) -> str:
    """Cents as dollars, without the sign."""
    return f"{cents / 100:.2f}".removesuffix(".00")


@register.filter
def dollars(cents: float) -> str:
    """Cents as dollars: $68, $4.60, -$12."""
    return to_the_cent(cents).removesuffix(".00")


@register.filter
def to_the_cent(cents: float) -> str:
    """Cents as dollars where sums stand in a column: $68.00, -$12.00."""
    sign = "-" if cents < 0 else ""
    return f"{sign}${abs(cents) / 100:,.2f}"


@register.filter
def price_by_length(cents_per_ft: int, per: PerLength) -> str:
    """A price by the length people read, as bare dollars."""
    return bare_dollars(per.shown(cents_per_ft))


@register.filter
def by_grade(row: CatalogueRow, per: PerLength) -> tuple[float, ...]:
    """A step's labour-minutes by the length people read, by grade."""
    rates = (row.per_ft_1, row.per_ft_2, row.per_ft_3, row.per_ft_4)
    return tuple(per.shown(rate) for rate in rates)


@register.filter
def rates_together(row: CatalogueRow, per: PerLength) -> str:
    """A step's labour-minutes by length at grades 1 to 4 in one, empty where there are none."""
    rates = by_grade(row, per)
    return " / ".join(map(plain, rates)) if any(rates) else ""


@register.filter
def else_minutes(row: CatalogueRow) -> str:
    """What a step takes beside its visit and its feet, in words."""
    sizes = [s for s in SIZES if row.per_repair.get(s)]
    repairs = " / ".join(plain(row.per_repair[size]) for size in sizes)
    told = [f"repair {'/'.join(sizes)}: {repairs}"] if sizes else []
    told += [f"a panel: {plain(row.per_panel)}"] if row.per_panel else []
    told += [f"clock: {plain(row.clock_minutes)} min"] if row.clock_minutes else []
    told += [f"left {plain(row.hold_minutes)} min after"] if row.hold_minutes else []
    told += ["done in a wait"] if row.meanwhile else []
    told += [f"{row.share:.0%} of it here"] if row.share != 1 else []
    return "; ".join(told)
