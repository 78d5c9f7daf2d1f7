"""The greatest value of a sampled channel: between samples where the curve is smooth, at a sample where it is not."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]

SMOOTH = 0.5
"""A top is smooth if the bends on both sides of it are at least this share of the bend at it."""


def greatest(time_s: Floats, values: Floats) -> tuple[float, float]:
    """The time and size of the greatest value of a sampled curve.

    `time_s` (n,) increasing, `values` (n,). A parabola through the greatest sample and its neighbours gives the top,
    unless the samples show a corner there (a ramp that meets a plateau has no higher point than its corner).
    """
    peak = int(np.argmax(values))
    if 2 <= peak <= len(values) - 3 and _smooth(time_s, values, peak):
        return _top(time_s[peak - 1 : peak + 2], values[peak - 1 : peak + 2])
    return float(time_s[peak]), float(values[peak])


def _smooth(time_s: Floats, values: Floats, peak: int) -> bool:
    near = slice(peak - 2, peak + 3)
    slopes = np.diff(values[near]) / np.diff(time_s[near])
    bends = np.diff(slopes)
    return bool(bends[1] < 0.0 and min(bends[0], bends[2]) <= max(bends[0], bends[2]) <= SMOOTH * bends[1])


def _top(time_s: Floats, values: Floats) -> tuple[float, float]:
    before_s, after_s = time_s[0] - time_s[1], time_s[2] - time_s[1]
    rise_before, rise_after = (values[0] - values[1]) / before_s, (values[2] - values[1]) / after_s
    bend = (rise_after - rise_before) / (after_s - before_s)
    slope = rise_before - bend * before_s
    shift_s = min(max(-slope / (2.0 * bend), before_s), after_s)
    return float(time_s[1] + shift_s), float(values[1] + (slope + bend * shift_s) * shift_s)
