"""Somebody's recorded flight, before it is smoothed into a motion."""

from __future__ import annotations

import dataclasses
from typing import Literal

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]


@dataclasses.dataclass(frozen=True, eq=False)
class RecordedFlight:
    """Time series of a recorded flight, all arrays of one length, time strictly increasing.

    Headings clockwise from `heading_north`; `heading_deg` None means heading = track. `bank_deg` (right positive),
    `pitch_deg` (nose up positive) and `tas_kt` may be None: bank is then derived from turn rate and airspeed, pitch
    from climb, airspeed from ground speed. `vertical_speed_ft_min` (climb positive) sharpens the vertical motion where
    it was recorded. A gap longer than `gap_limit_s` is refused.
    """

    time_s: Floats
    latitude_deg: Floats
    longitude_deg: Floats
    height_ft: Floats
    ground_speed_kt: Floats | None = None
    track_true_deg: Floats | None = None
    heading_deg: Floats | None = None
    heading_north: Literal["true", "magnetic"] = "magnetic"
    tas_kt: Floats | None = None
    bank_deg: Floats | None = None
    pitch_deg: Floats | None = None
    gap_limit_s: float = 20.0
    source: str = ""
    vertical_speed_ft_min: Floats | None = None
