"""Skills as people read them."""

from collections.abc import Mapping

# What is stored is short; what is read says for which film somebody holds the gun.
SAID: Mapping[str, str] = {"spray-1": "one-part spray", "spray-2": "two-part spray"}

# What somebody who has it does.
MEANS: Mapping[str, str] = {
    "lead": "decides for a team on site",
    "quote": "walks round boats and prices them",
    "spray-1": "holds the gun, one-part film",
    "spray-2": "holds the gun, two-part film",
    "hose": "leads the hose beside the gun",
    "hood": "works in an air-fed hood",
}


def called(skill: str) -> str:
    """A skill in plain words."""
    return SAID.get(skill, skill.replace("-", " "))
