"""What a job takes and costs: labour by stage, product by coat, price and margin, what the last like it really took."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from zoneinfo import ZoneInfo

from django.db.models import Avg

from dispatch.actions import (
    asked_prices,
    clock,
    comes_first,
    prices,
    rates,
    stores,
    took,
)
from dispatch.actions.asked_prices import Listed
from dispatch.actions.took import Took
from dispatch.records.models import Job, Outfit, Person, Sheet, Stage
from dispatch.trade import film
from dispatch.trade.words import Words

_COATS = 2


@dataclass(frozen=True, kw_only=True)
class StageLine:
    """A stage: its steps with labour-minutes, the clock minutes of each team, and what it really took once done."""

    key: str
    name: str
    labour_minutes: float
    really: str
    steps: tuple[tuple[str, float], ...]
    clock: tuple[tuple[str, int], ...]
    other_ways: tuple[str, ...]


@dataclass(frozen=True, kw_only=True)
class CoatLine:
    """Product of one coat of one part, in words: ounces or millilitres; what the first, the second and both really took."""

    stage: str
    each: str
    both: str
    used: tuple[str, str, str]


@dataclass(frozen=True, kw_only=True)
class Product:
    """What the job lays: by coat, with the reserve, what is in the cans, the film. Empty words are not known.

    ``cents`` is None where no price of a can is entered.
    """

    name: str
    coats: tuple[CoatLine, ...]
    need: str
    carried: str
    in_store: str
    packs: int
    cents: int | None
    film: str
    spread: str
    asked: str


@dataclass(frozen=True, kw_only=True)
class Estimate:
    """A job in numbers. ``likely_minutes`` is as reckoned, ``late_minutes`` what four in five jobs keep to.

    ``margin_cents`` is before product where nobody entered what it costs.
    """

    stages: tuple[StageLine, ...]
    likely_minutes: float
    late_minutes: float
    returning: bool
    product: Product | None
    price_cents: int
    listed: Listed
    wage_cents: int
    margin_cents: int
    took: tuple[Took, ...]
    ratio: float | None


def of(job: Job) -> Estimate:
    """The estimate of a job as its stages stand in the book."""
    words = Words(system=Outfit.objects.get().units)
    rows = _one_way(job)
    lines = tuple(_line(stage, job) for stage in rows)
    likely = sum(line.labour_minutes for line in lines)
    returning = prices.returning(job)
    wage = _whole_dollars(likely / 60 * cents_per_hour())
    product = _product(job, rows, words)
    like = tuple(took.last(job, words))
    return Estimate(
        stages=lines,
        likely_minutes=likely,
        late_minutes=likely * _stretch(returning=returning),
        returning=returning,
        product=product,
        price_cents=job.price_cents,
        listed=asked_prices.of(job),
        wage_cents=wage,
        margin_cents=job.price_cents - wage - ((product and product.cents) or 0),
        took=like,
        ratio=took.ratio(like),
    )


def _one_way(job: Job) -> list[Stage]:
    """The stages of the way that is being done, else of the plainest; a roof only where there is no plainer."""
    stages = list(job.stages.select_related("visit").order_by("position", "pk"))
    made = {stage.variant for stage in stages}
    plain = "as-she-lies" if "as-she-lies" in made else "roofed"
    kept = comes_first.ways_taken(stages) or {plain}
    return [stage for stage in stages if not stage.variant or stage.variant in kept]


def _stretch(*, returning: bool) -> float:
    factors = rates.labour_rates()
    return factors.late_returning if returning else factors.late_first


def _line(stage: Stage, job: Job) -> StageLine:
    visit = stage.key.removesuffix(f"-{stage.variant}") if stage.variant else stage.key
    ways = job.stages.exclude(variant__in=("", stage.variant)).filter(
        key__startswith=f"{visit}-"
    )
    steps = tuple((row["name"], float(row["labour_minutes"])) for row in stage.steps)
    return StageLine(
        key=f"{job.key}.{stage.key}",
        name=stage.name,
        labour_minutes=sum(minutes for _, minutes in steps),
        really=took.really(stage),
        steps=steps,
        clock=tuple(sorted(stage.minutes.items(), key=lambda row: int(row[0]))),
        other_ways=tuple(way.variant.replace("-", " ") for way in ways)
        if stage.variant
        else (),
    )


def _product(job: Job, rows: Sequence[Stage], words: Words) -> Product | None:
    laid = [s for s in rows if s.sheet_id == job.sheet_id and s.product_ml]
    if job.sheet is None or not laid:
        return None
    sheet, coverage = job.sheet, rates.coverage()
    need = sum(stage.product_ml for stage in laid)
    carried = need * (1 + coverage.carry_reserve)
    wet = film.wet_um(film.product_ml(1.0, coats=1, waste=1.0, coverage=coverage), 1.0)
    return Product(
        name=sheet.name,
        coats=tuple(
            CoatLine(
                stage=stage.name,
                each=words.volume(stage.product_ml / _COATS),
                both=words.volume(stage.product_ml),
                used=took.by_coat(stage, words),
            )
            for stage in laid
        ),
        need=words.volume(need),
        carried=words.volume(carried),
        in_store=words.volume(stores.usable_ml(sheet, _today(job))),
        packs=film.packs_to_buy(carried, 0, sheet.pack_ml),
        cents=_whole_dollars(need / sheet.pack_ml * sheet.pack_cents)
        if sheet.pack_cents
        else None,
        film=_film(sheet, wet, words),
        spread=_spread(sheet, words),
        asked=_asked(sheet, wet, words),
    )


def _today(job: Job) -> date:
    return clock.now().astimezone(ZoneInfo(job.boat.place.time_zone)).date()


def _film(sheet: Sheet, wet_um: float, words: Words) -> str:
    """A coat's film, wet and dry."""
    wet = f"each coat about {words.film(wet_um)} wet"
    if sheet.solids_pct is None:
        return f"{wet}; dry is not known: the sheet's solids are not entered"
    dry = film.dry_um(wet_um, sheet.solids_pct)
    return f"{wet}, {words.film(dry)} dry at {sheet.solids_pct:g} % solids by volume"


def _spread(sheet: Sheet, words: Words) -> str:
    """The theoretical spreading rate at the dry film its maker asks for (ISO 3233-3)."""
    if sheet.solids_pct is None or sheet.dry_um is None:
        return ""
    rate = film.spread_m2_per_l(sheet.dry_um, sheet.solids_pct)
    return f"at {words.film(sheet.dry_um)} dry it covers {words.spread(rate)}, before overspray"


def _asked(sheet: Sheet, wet_um: float, words: Words) -> str:
    """Whether a coat as the outfit lays it makes the dry film its maker asks for."""
    if sheet.solids_pct is None or sheet.dry_um is None:
        return ""
    wanted = film.wet_for_dry_um(sheet.dry_um, sheet.solids_pct)
    if wet_um < wanted * 0.95:
        return f"That is thin: the maker's dry film wants {words.film(wanted)} wet."
    return ""


def _whole_dollars(cents: float) -> int:
    """An estimate is no truer for its cents."""
    return round(cents / 100) * 100


def cents_per_hour() -> float:
    """What an hour of somebody here costs in the middle, in cents."""
    found = Person.objects.filter(active=True).aggregate(mean=Avg("cents_per_hour"))
    return float(found["mean"] or 0)
