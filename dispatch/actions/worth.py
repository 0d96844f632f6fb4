"""What work is worth, what leaving it out or telling people otherwise is weighed at, and the spare kept before a wall."""

from dataclasses import dataclass


@dataclass(frozen=True, kw_only=True)
class Prices:
    """What a price is reckoned by beside the catalogue's dollars a foot; all assumptions.

    Having come in vain costs nothing until the owner sets what it does, and only where the owner puts it on a job. Grades multiply what goes by length, as a boat's shape does. The drive beyond the free way is priced once a job.
    """

    grade_1: float = 1.0
    grade_2: float = 1.0
    grade_3: float = 1.15
    grade_4: float = 1.4
    repair_small_cents: float = 9000.0
    repair_medium_cents: float = 16000.0
    repair_large_cents: float = 26000.0
    free_km: float = 24.14016
    cents_per_km: float = 125.0
    in_vain_cents: float = 0.0


@dataclass(frozen=True, kw_only=True)
class Planning:
    """What leaving work out costs beside its price, and what telling people otherwise is weighed at; assumptions.

    A sprayed visit that spares nothing before the end of its hours, on a day that runs over, is weighed at
    ``tight_sky_cents``: about a side laid anew by two people, once in five such days.
    """

    value_factor: float = 3.0
    least_value_cents: float = 20000.0
    bumped_value_cents: float = 250000.0
    extra_cents: float = 6000.0
    told_day_cents: float = 4000.0
    told_shift_cents: float = 1000.0
    told_hour_cents: float = 600.0
    told_within_minutes: float = 30.0
    tight_sky_cents: float = 8000.0


@dataclass(frozen=True, kw_only=True)
class Crew:
    """Whether the crew is told by message when wet film is to be covered, and the owner when rain or dew comes to it: 1 yes, 0 no.

    How long the crew waits where nobody can get to a boat; an assumption.
    """

    cover_told: float = 1.0
    owner_told: float = 1.0
    gate_wait_minutes: float = 10.0


@dataclass(frozen=True, kw_only=True)
class Board:
    """When the board calls something a snag; assumptions.

    ``sky_spare_minutes`` are kept before the sun, dew, wind or the place's hours end a visit that lays film, on a day
    that runs over as one in five does; ``promise_spare_minutes`` before a hard date, as planned.
    """

    stale_hours: float = 12.0
    promise_spare_minutes: float = 120.0
    sky_spare_minutes: float = 45.0
    overran_minutes: float = 30.0
    full_day_pct: float = 85.0
    full_late_day_pct: float = 105.0


@dataclass(frozen=True, kw_only=True)
class Promises:
    """Working days kept for the weather behind a planned finish, where film is laid; assumptions."""

    near_days: float = 1.0
    far_days: float = 2.0
    far_after_days: float = 5.0
