"""How far overspray may carry."""

import numpy as np

from dispatch.trade.samples import Samples
from dispatch.trade.sun import Floats
from dispatch.trade.work import Neighbour, Work


def drift_m(gust_ms: Floats, work: Work) -> Floats:
    """How far overspray may carry downwind, metres: 15 ft and 3 ft more for every mph of gust above 3."""
    limits = work.limits
    beyond = np.maximum(0.0, gust_ms - limits.drift_free_gust_ms)
    far = limits.drift_base_m + limits.drift_m_per_ms * beyond
    gun = limits.drift_electric if work.gun == "electric" else 1.0
    cover = limits.drift_screened if work.cover != "open" else 1.0
    return np.asarray(far * gun * cover, dtype=np.float64)


def reach_m(work: Work, samples: Samples, neighbour: Neighbour) -> Floats:
    """How far overspray may carry towards a neighbour, metres: all of it downwind, 15 ft elsewhere."""
    downwind = (samples["from_deg"] + 180) % 360
    off = np.abs((downwind - neighbour.bearing_deg + 180) % 360 - 180)
    carries = drift_m(samples["gust_ms"], work)
    with np.errstate(invalid="ignore"):
        return np.where(
            off <= work.limits.drift_half_angle_deg, carries, work.limits.drift_base_m
        )
