"""Time in an air-fed hood, which the planner keeps as a supply: each van's crew has a day's worth of it.

Whoever rides in a van stays with it all day, so what its two-part visits take together is what each hand takes.
"""

from dispatch.actions import barred, facts, rates
from dispatch.records.models import Sheet, Stage

# As the planner tells a supply: so many minutes of hood time.
SUPPLY = "hood time_min"


def takes(stage: Stage, minutes: int) -> dict[str, int]:
    """What a stage takes of a van's supplies, its hood time by its longest visit among them."""
    own = dict(stage.supplies)
    if barred.two_part(stage):
        own[SUPPLY] = minutes
    return own


def carried(carries: dict[str, int]) -> dict[str, int]:
    """What a van carries, with a day's hood time where two-part is to be sprayed by anybody."""
    sprays = facts.open_stages().filter(family="spray", sheet__kind=Sheet.Kind.TWO_PART)
    if not sprays.exists():
        return carries
    return carries | {SUPPLY: round(rates.shifts().hood_minutes)}
