"""The turning Earth, being carried round it, and a uniform magnetic field."""

from __future__ import annotations

import math

from .vectors import Vector, vec

GRAVITY_M_S2 = 9.80665
SPIN_RAD_S = 7.292115e-5
RADIUS_M = 6366707.0
KNOT_M_S = 1852.0 / 3600.0
FOOT_M = 0.3048


def earth_spin(latitude_rad: float) -> Vector:
    """The Earth's own rotation seen at a latitude [rad/s, NED]."""
    return vec(SPIN_RAD_S * math.cos(latitude_rad), 0.0, -SPIN_RAD_S * math.sin(latitude_rad))


def carriage(latitude_rad: float, ground_velocity: Vector) -> Vector:
    """How the local vertical and north turn because the aircraft moves over the sphere [rad/s, NED]."""
    north, east = float(ground_velocity[0]), float(ground_velocity[1])
    return vec(east / RADIUS_M, -north / RADIUS_M, -east * math.tan(latitude_rad) / RADIUS_M)


def uniform_field(horizontal_t: float, dip_rad: float, variation_rad: float = 0.0) -> Vector:
    """A stated magnetic field [T, NED from true north]."""
    north, east = horizontal_t * math.cos(variation_rad), horizontal_t * math.sin(variation_rad)
    return vec(north, east, horizontal_t * math.tan(dip_rad))
