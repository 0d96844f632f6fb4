"""Vetoes by sun, air, wind, rain and cure."""

from dispatch.hooks.manifest import Manifest

MANIFEST = Manifest(
    name="weather_veto",
    version="1.0",
    socket=1,
    summary="Says when the sky forbids a stage, with the numbers compared.",
    hooks=("vetoes",),
)
