"""What do weighings say of when a lot is ready?

A piece that was weighed before and after tells which share of its water was in by then, and the sheet's own
law (uptake.py) at which time that share is the one of a ready piece. Nobody has to weigh: where it was done,
it narrows what the marks say.
"""

import math
from collections.abc import Sequence
from statistics import fmean

from easelside.soak.marks import SoakMark
from easelside.soak.uptake import time_to_fraction

# starting values without a source: hence the wide range that all weighings of a lot share
FULL_GAIN = 1.0  # grams of water that a gram of air-dry cane takes in at last
READY_SHARE = 0.6  # of that water, when a piece cuts well
SHARED_SD = 0.5  # of ln(ready time), however many were weighed
EACH_SD = 0.25


def ready_by_weight(marks: Sequence[SoakMark], log_effective: Sequence[float]) -> tuple[float, float] | None:
    """ln of the effective time at which weighed pieces would be ready, and its sd; None: none was weighed."""
    found, pieces = [], 0
    for mark, at in zip(marks, log_effective, strict=True):
        gain = mark.weight_gain
        if gain is not None:
            share = min(0.97, max(0.02, gain / FULL_GAIN))
            found += [float(at) - math.log(_scaled(share) / _scaled(READY_SHARE))] * mark.times
            pieces += mark.times
    return (fmean(found), math.hypot(SHARED_SD, EACH_SD / math.sqrt(pieces))) if found else None


def _scaled(share: float) -> float:
    return time_to_fraction(share, 1e-6, 2.0)
