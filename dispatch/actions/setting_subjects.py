"""What rates and limits are about: the subjects they are grouped by, and what a change of each does."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from enum import StrEnum


class Effect(StrEnum):
    """When a change is felt."""

    SKY = "sky"
    JOBS = "jobs"
    BUILD = "build"
    STORES = "stores"
    NOTICES = "notices"
    BOARD = "board"
    ESTIMATES = "estimates"
    CARDS = "cards"


EFFECTS: Mapping[Effect, str] = {
    Effect.SKY: (
        "Every stage still to be done is judged again by the new numbers, within a minute or so. "
        "Visits already posted stay; where the sky no longer allows one, the board shows a snag."
    ),
    Effect.JOBS: (
        "New jobs are reckoned with the new numbers. Stages already in the book that are neither posted "
        "nor begun are reckoned again within a minute or so. Visits already posted stay as they are."
    ),
    Effect.BUILD: "The next week you build goes by the new numbers. Visits already posted stay.",
    Effect.NOTICES: (
        "Messages put down from now on, and customers' pages, go by the new numbers. "
        "Messages already waiting keep their hour."
    ),
    Effect.BOARD: "The board's snags go by the new numbers at once.",
    Effect.ESTIMATES: "Jobs' estimates go by the new numbers at once. What was promised stays promised.",
    Effect.CARDS: "The crew's cards go by the new numbers at once.",
    Effect.STORES: "Load lists and the board's stores go by the new number at once.",
}


@dataclass(frozen=True, kw_only=True)
class Subject:
    """A group of settings: the address it has, its name, what it is about."""

    key: str
    name: str
    about: str
    effect: Effect
    family: bool = False


def _family(key: str, name: str, about: str) -> Subject:
    return Subject(key=key, name=name, about=about, effect=Effect.SKY, family=True)


_BY_SHEET = "What a product's own sheet says goes before these."

SUBJECTS: tuple[Subject, ...] = (
    Subject(
        key="labour",
        name="Labour",
        about="What makes the same step take longer. The minutes of each step stand in the catalogue.",
        effect=Effect.JOBS,
    ),
    Subject(
        key="shape",
        name="Boat shapes",
        about="How much longer a foot of each shape takes than a foot of a centre console.",
        effect=Effect.JOBS,
    ),
    Subject(
        key="coverage",
        name="Product",
        about="What a hull takes, and what is carried on top. Rules of thumb, not measurements.",
        effect=Effect.JOBS,
    ),
    Subject(
        key="half_day",
        name="Half-days left empty",
        about="What a week leaves empty on Thursday or Friday, for what runs over or rains off.",
        effect=Effect.BOARD,
    ),
    Subject(
        key="supply",
        name="Orders",
        about="How long before it runs short a product must be ordered, and until when the supplier takes orders. Public holidays are not known.",
        effect=Effect.STORES,
    ),
    Subject(
        key="water",
        name="Water",
        about="What a visit uses for each foot of boat where the place has no tap.",
        effect=Effect.JOBS,
    ),
    Subject(
        key="extras",
        name="Turning, cloths and fills",
        about="Work that hangs on how she lies, and how long a gelcoat fill must be left.",
        effect=Effect.JOBS,
    ),
    Subject(
        key="learnt",
        name="What your crew's minutes taught",
        about="How many times the catalogue's minutes a kind of job takes. You take it over on a job's estimate.",
        effect=Effect.JOBS,
    ),
    Subject(
        key="waits",
        name="Work that must follow soon",
        about="The most time one visit may wait after another.",
        effect=Effect.JOBS,
    ),
    Subject(
        key="day",
        name="The working day",
        about="Breaks, and the longest visit a team is given. The law may ask for more.",
        effect=Effect.BUILD,
    ),
    Subject(
        key="shifts",
        name="People's hours",
        about=(
            "Judged on a finished week before it is posted. The law and the product's sheet may ask for more."
        ),
        effect=Effect.BOARD,
    ),
    Subject(
        key="travel",
        name="Driving",
        about="Roads between places nobody has timed yet.",
        effect=Effect.BUILD,
    ),
    Subject(
        key="prices",
        name="Prices",
        about="What a job is priced at beside the catalogue's dollars by length: worn hulls, repairs, and the drive beyond the free way, once a job. Hard shapes count as under Boat shapes; late hours are an extra of the job, and so is having come in vain, which you put on a job or not.",
        effect=Effect.ESTIMATES,
    ),
    Subject(
        key="planning",
        name="Leaving work out, and telling people otherwise",
        about="What the planner reckons a job left out costs, beside its price, and what changing a week that people were told of is weighed at.",
        effect=Effect.BUILD,
    ),
    Subject(
        key="customers",
        name="Customers",
        about="When they may be written to, by their own clock, and what they are told.",
        effect=Effect.NOTICES,
    ),
    Subject(
        key="crew",
        name="Messages to the crew, and the wait at a gate",
        about="What people who work here are told by message, at any hour; each agrees to it on their own page. And how long they wait where nobody can get to a boat.",
        effect=Effect.NOTICES,
    ),
    Subject(
        key="board",
        name="Snags",
        about="When the board calls something a snag.",
        effect=Effect.BOARD,
    ),
    Subject(
        key="promises",
        name="Promised days",
        about="What is kept for the weather behind a planned finish, where film is laid.",
        effect=Effect.ESTIMATES,
    ),
    Subject(
        key="sky",
        name="Rain, shade and forecasts",
        about="Margins that hold for every kind of work.",
        effect=Effect.SKY,
    ),
    Subject(
        key="surface",
        name="Hull and air",
        about="How far a hull lies from the air where nobody has read it. A reading goes before these.",
        effect=Effect.SKY,
    ),
    Subject(
        key="strain",
        name="Heat and cold",
        about=(
            "When the crew's cards ask for water, shade, rest and warmth. Of air and heat index the stricter "
            "holds, unless a place is set to one of them, or to WBGT. Your state may ask for more; these are no advice."
        ),
        effect=Effect.CARDS,
    ),
    Subject(
        key="drift",
        name="Overspray",
        about="How far the fog of a spray gun may carry. Nobody may go below the first distance.",
        effect=Effect.SKY,
    ),
    _family("wash", "Wash, strip, deoxidise", "Work with water and deoxidiser."),
    _family("prep", "Scuff, mask, wipe", "Work that wants a dry hull."),
    _family("gelcoat", "Gelcoat fill", f"Filling and its cure. {_BY_SHEET}"),
    _family("spray", "Spray", f"Laying film with a gun. {_BY_SHEET}"),
    _family("wipe-on", "Wipe-on coat", f"Coats laid by hand. {_BY_SHEET}"),
    _family("polish", "Machine polish", f"Machine work. {_BY_SHEET}"),
    _family(
        "wax", "Wax", f"Wax by hand; rain takes it off while it is fresh. {_BY_SHEET}"
    ),
    _family("letters", "Decals and numbers", "Vinyl wants a dry hull and still air."),
    _family("inside", "Inside and stainless", "Work under cover."),
)
_CARRIED = {
    "coverage.carry_reserve",
    "coverage.breeze_waste",
    "coverage.breeze_gust_ms",
    "coverage.trainee_waste",
}
BY_KEY: Mapping[str, Subject] = {subject.key: subject for subject in SUBJECTS}


def of(name: str) -> Subject:
    """The subject of a setting."""
    group, _, own = name.partition(".")
    if group == "limits":
        return BY_KEY["drift" if own.startswith("drift_") else "sky"]
    return BY_KEY[group]


def does(names: Iterable[str]) -> str:
    """What a change of some settings does, in sentences."""
    return " ".join(EFFECTS[one] for one in dict.fromkeys(map(effect, names)))


def effect(name: str) -> Effect:
    """When a change of a setting is felt: what is only carried along, at once."""
    if name in _CARRIED:
        return Effect.STORES
    return of(name).effect


def limits_of(family: str) -> str:
    """Whose limits hold for a kind of work, by the name its settings have."""
    kind = BY_KEY.get(family)
    if kind is None:
        return "the place's hours alone: any sky will do"
    return f"the outfit's own limits for “{kind.name}”"
