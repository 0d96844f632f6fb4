"""What work is worth: what it is priced by, and what leaving it out or telling people otherwise is weighed at."""

from dataclasses import dataclass


@dataclass(frozen=True, kw_only=True)
class Prices:
    """What a price is reckoned by beside the catalogue's dollars a foot; all assumptions.

    Grades multiply what goes by length, as a boat's shape does. The drive beyond the free way is priced once a job.
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


@dataclass(frozen=True, kw_only=True)
class Planning:
    """What leaving work out costs beside its price, and what telling people otherwise is weighed at; assumptions."""

    value_factor: float = 3.0
    least_value_cents: float = 20000.0
    bumped_value_cents: float = 250000.0
    extra_cents: float = 6000.0
    told_day_cents: float = 4000.0
    told_shift_cents: float = 1000.0
    told_hour_cents: float = 600.0
    told_within_minutes: float = 30.0


@dataclass(frozen=True, kw_only=True)
class Crew:
    """Whether the crew is told by message when wet film is to be covered, and the owner when rain or dew comes to it: 1 yes, 0 no."""

    cover_told: float = 1.0
    owner_told: float = 1.0
