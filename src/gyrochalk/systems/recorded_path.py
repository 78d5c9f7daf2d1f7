"""A recorded flight, smoothed, as a path and a route for the kernels."""

from __future__ import annotations

import dataclasses

import numpy as np
from numpy.typing import NDArray
from scipy.interpolate import PPoly

from gyrochalk.physics.world import LEG_COLUMNS, LEG_KIND
from gyrochalk.systems.flightpath import Path
from gyrochalk.systems.geomagnetism import MagneticModel, field_along
from gyrochalk.systems.places import StatedField
from gyrochalk.systems.recorded import RecordedFlight
from gyrochalk.systems.recorded_motion import RecordedMotion, smooth
from gyrochalk.systems.route import Route, field_on, table_times

Floats = NDArray[np.float64]


@dataclasses.dataclass(frozen=True)
class RecordedPath:
    """A recorded flight's path and route, and its smoothed motion."""

    path: Path
    route: Route
    motion: RecordedMotion

    def airspeed_at(self, time_s: Floats) -> Floats:
        """True airspeed [m/s] at times `time_s` from the start of the recording."""
        return np.asarray(self.motion.tas_m_s_at(time_s))


def variation_along(recorded: RecordedFlight, model: MagneticModel | StatedField) -> Floats:
    """Variation [deg] at each row of a recording."""
    if isinstance(model, StatedField):
        return np.full(len(recorded.time_s), model.variation_deg)
    field = field_along(model, recorded.latitude_deg, recorded.longitude_deg, recorded.height_ft * 0.3048 / 1000.0)
    return np.asarray(np.degrees(np.arctan2(field[:, 1], field[:, 0])))


def recorded_path(recorded: RecordedFlight, model: MagneticModel | StatedField) -> RecordedPath:
    """Smooth a recording and tabulate its route. Raises `MaterialError` flight-gap, flight-empty."""
    motion = smooth(recorded, variation_along(recorded, model))
    duration = float(motion.time_s[-1])
    row = np.zeros((1, LEG_COLUMNS))
    row[0, LEG_KIND] = 1.0
    polynomials = np.ascontiguousarray(
        np.stack([motion.north, motion.east, motion.down, motion.heading, motion.pitch, motion.bank])
    )
    path = Path(row, motion.time_s, polynomials, duration, [], list(motion.turn_spans()))
    times = table_times(duration)
    latitude, longitude, height = (
        np.asarray(PPoly(c, motion.time_s)(times)) for c in (motion.latitude, motion.longitude, motion.height)
    )
    route = Route(times, latitude, longitude, height, field_on(latitude, longitude, height, model))
    return RecordedPath(path, route, motion)
