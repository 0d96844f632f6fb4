"""A person, a van and a trailer more, who stand idle until a trial puts them to work."""

from dataclasses import replace

from dispatch.planner.problem import Person, Problem, Trailer, Van

SPARE = "one more"


def with_spares(problem: Problem) -> Problem:
    """Return the week with one more of each, none of them on duty or of any kind needed.

    They come last, so everybody else keeps their number.
    """
    off = (None,) * len(problem.days)
    person = Person(
        id=SPARE,
        skills={},
        driver=True,
        duty=off,
        cents_per_hour=0,
        week_regular_min=10**6,
        not_alone=False,
    )
    van = Van(
        id=SPARE,
        base=0,
        seats=0,
        tows=False,
        gear=frozenset(),
        carries={},
        duty=off,
        cents_per_day=0,
        cents_per_km=0,
    )
    trailer = Trailer(
        id=SPARE,
        kind=SPARE,
        place=0,
        towed=False,
        hook_min=0,
        unhook_min=0,
        factor_pct=100,
    )
    return replace(
        problem,
        people={**problem.people, SPARE: person},
        vans={**problem.vans, SPARE: van},
        trailers={**problem.trailers, SPARE: trailer},
    )
