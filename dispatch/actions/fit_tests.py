"""Fit tests of hoods: a skill that wants one counts while its test holds; one whose day nobody entered does not."""

from datetime import date

from dispatch.records.models import Person, Skill

FITTED = ("hood",)


def holds(skill: Skill, on: date) -> bool:
    """Whether a skill may be used on a day: one that wants a fit test until the day it holds, every other always."""
    until = skill.fit_test_until
    if until is None:
        return skill.name not in FITTED
    return until >= on


def lacks(person: Person, on: date) -> str:
    """What somebody lacks to wear an air-fed hood on a day, to begin a sentence; empty where nothing."""
    hood = next((one for one in person.skills.all() if one.name in FITTED), None)
    if hood is None:
        return f"{person.name} has no air-fed hood with a fit test"
    if hood.fit_test_until is None:
        return f"Nobody entered until when {person.name}'s fit test holds"
    if hood.fit_test_until < on:
        return f"{person.name}'s fit test holds until {hood.fit_test_until:%d %b}, not through the week"
    return ""
