"""Places as GeoJSON, by RFC 7946: points with the longitude first; a latitude beyond 90 is likely swapped."""

import pytest

from dispatch.actions import place_bounds, places
from tests.actions import shop
from tests.web import people

# Section 3.1.6, on rings of polygons, asks nothing of us: the house writes points alone, and reads no GeoJSON.
ANNAPOLIS = (38.9784, -76.4922)


# RFC 7946, 3.1.1 (seen): Annapolis is [-76.4922, 38.9784].
@pytest.mark.django_db
def test_a_point_has_its_longitude_first(client):
    shop.outfit()
    place = shop.driveway(latitude=ANNAPOLIS[0], longitude=ANNAPOLIS[1])
    shop.boat(place)
    client.force_login(people.owner())
    told = client.get("/api/places/").json()
    assert told["type"] == "FeatureCollection"
    (feature,) = told["features"]
    assert (feature["type"], feature["id"]) == ("Feature", "s5")
    point = {"type": "Point", "coordinates": [-76.4922, 38.9784]}
    assert feature["geometry"] == point
    assert feature["properties"]["boats"] == ["Second Wind"]
    assert told == places.geojson()


# The same: the second number is the latitude, between -90 and 90.
@pytest.mark.parametrize(
    ("latitude", "fits"),
    [(38.9784, True), (90, True), (-90, True), (-123.4, False), (90.001, False)],
)
def test_a_latitude_beyond_the_pole_is_taken_for_swapped(latitude, fits):
    found = place_bounds.faults({"latitude": latitude})
    assert (found == {}) is fits
    assert fits or "may be swapped" in found["latitude"]
