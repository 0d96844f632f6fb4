"""A sheet that contradicts itself is refused."""

from dataclasses import replace

import pytest

from tests.trade.lanternglass import ONE_PART


def test_an_unknown_kind_is_refused_with_those_there_are() -> None:
    with pytest.raises(ValueError, match="varnish is not one of one-part"):
        replace(ONE_PART, kind="varnish")


@pytest.mark.parametrize("limit", ["air_min_c", "surface_min_c"])
def test_a_lowest_temperature_above_its_highest_is_refused(limit: str) -> None:
    worse: dict[str, float] = {limit: 60.0}
    with pytest.raises(ValueError, match="must lie below its highest"):
        replace(ONE_PART, **worse)  # type: ignore[arg-type]
