"""How far overspray may carry."""

import numpy as np

from dispatch.trade.samples import Samples
from dispatch.trade.sun import Floats
from dispatch.trade.work import Neighbour, Work


def least_m(work: Work) -> float:
    """How far it may carry in any wind and any direction, metres: 15 ft, by the gun and the screens."""
    limits = work.limits
    gun = limits.drift_electric if work.gun == "electric" else 1.0
    cover = limits.drift_screened if work.cover != "open" else 1.0
    return limits.drift_base_m * gun * cover


def drift_m(gust_ms: Floats, work: Work) -> Floats:
    """How far it may carry downwind, metres: 15 ft and 3 ft more for every mph of gust above 3, by gun and screens."""
    limits = work.limits
    beyond = np.maximum(0.0, gust_ms - limits.drift_free_gust_ms)
    grown = 1 + beyond * limits.drift_m_per_ms / limits.drift_base_m
    return np.asarray(least_m(work) * grown, dtype=np.float64)


def reach_m(work: Work, samples: Samples, neighbour: Neighbour) -> Floats:
    """How far it may carry towards a neighbour, metres: all of it within 45 degrees of downwind, the least elsewhere."""
    downwind = (samples["from_deg"] + 180) % 360
    off = np.abs((downwind - neighbour.bearing_deg + 180) % 360 - 180)
    with np.errstate(invalid="ignore"):
        return np.where(
            off <= work.limits.drift_half_angle_deg,
            drift_m(samples["gust_ms"], work),
            least_m(work),
        )
