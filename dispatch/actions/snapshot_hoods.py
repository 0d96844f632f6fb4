"""Time in an air-fed hood, which the planner keeps as a supply: each van's crew has a day's worth of it.

Whoever rides in a van stays with it all day, so what its two-part visits take together is what each hand takes.
"""

from collections.abc import Mapping

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


def carried(carries: Mapping[str, float]) -> dict[str, int]:
    """What a van carries in whole numbers, with a day's hood time where two-part is to be sprayed by anybody."""
    sprays = facts.open_stages().filter(family="spray", sheet__kind=Sheet.Kind.TWO_PART)
    whole = {name: round(amount) for name, amount in carries.items()}
    if not sprays.exists():
        return whole
    return whole | {SUPPLY: round(rates.shifts().hood_minutes)}
