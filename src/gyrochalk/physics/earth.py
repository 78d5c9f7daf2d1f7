"""The Earth under the flight: its turning, the turning of the vertical with travel, apparent gravity, the field.

ω_NED = (Ω cosφ + v_E/R, −v_N/R, −Ω sinφ − v_E tanφ/R).
"""

from __future__ import annotations

import math

from gyrochalk.physics.compiled import kernel
from gyrochalk.physics.motion import GRAVITY, Vector
from gyrochalk.physics.world import (
    ROUTE_FIELD_DOWN,
    ROUTE_FIELD_EAST,
    ROUTE_FIELD_NORTH,
    ROUTE_LATITUDE,
    World,
)

EARTH_RATE = 7.292115e-5
"""Rotation of the Earth [rad/s]."""
SPHERE_RADIUS = 1852.0 * 60.0 * 180.0 / math.pi
"""Radius [m] of the sphere on which one minute of arc is 1852 m."""
ELLIPSOID_RADIUS = 6378137.0
"""WGS-84 equatorial radius [m]."""
ELLIPSOID_FLATTENING = 1.0 / 298.257223563
"""WGS-84 flattening."""
ECCENTRICITY_2 = ELLIPSOID_FLATTENING * (2.0 - ELLIPSOID_FLATTENING)


@kernel
def radii(latitude: float, ellipsoid: float) -> tuple[float, float]:
    """Radii of curvature [m] along the meridian and across it, on the sphere or on WGS-84."""
    if ellipsoid == 0.0:
        return SPHERE_RADIUS, SPHERE_RADIUS
    w2 = 1.0 - ECCENTRICITY_2 * math.sin(latitude) ** 2
    across = ELLIPSOID_RADIUS / math.sqrt(w2)
    return across * (1.0 - ECCENTRICITY_2) / w2, across


@kernel
def route_at(t: float, world: World, channel: int) -> float:
    """One channel of the route table at time `t` [s]."""
    last = world.route.shape[0] - 1
    piece = min(max(int(t / world.route_step_s), 0), last)
    x = t - piece * world.route_step_s
    c = world.route[piece]
    return float(((c[0, channel] * x + c[1, channel]) * x + c[2, channel]) * x + c[3, channel])


@kernel
def field_at(t: float, world: World) -> Vector:
    """The Earth's field NED [T] met at time `t` [s]."""
    return (
        route_at(t, world, ROUTE_FIELD_NORTH),
        route_at(t, world, ROUTE_FIELD_EAST),
        route_at(t, world, ROUTE_FIELD_DOWN),
    )


@kernel
def earth_rotation(latitude: float) -> Vector:
    """The Earth's rotation NED [rad/s]."""
    return EARTH_RATE * math.cos(latitude), 0.0, -EARTH_RATE * math.sin(latitude)


@kernel
def transport_rotation(latitude: float, velocity: Vector, ellipsoid: float) -> Vector:
    """Rotation NED [rad/s] of the local vertical and north as the aircraft is carried over the Earth."""
    meridian, across = radii(latitude, ellipsoid)
    east = velocity[1] / across
    return east, -velocity[0] / meridian, -east * math.tan(latitude)


@kernel
def frame_rotation(t: float, velocity: Vector, world: World) -> Vector:
    """Rotation of the NED frame [rad/s] as far as its effects are switched on."""
    latitude = route_at(t, world, ROUTE_LATITUDE)
    turning = earth_rotation(latitude)
    carried = transport_rotation(latitude, velocity, world.ellipsoid)
    return (
        world.earth_rate * turning[0] + world.transport * carried[0],
        world.transport * carried[1],
        world.earth_rate * turning[2] + world.transport * carried[2],
    )


@kernel
def apparent_gravity(t: float, velocity: Vector, acceleration: Vector, world: World) -> Vector:
    """What every instrument feels, NED [m/s²]: g − a, with the Coriolis part (2ω_earth + ω_transport) × v if on."""
    if world.coriolis == 0.0:
        return -acceleration[0], -acceleration[1], GRAVITY - acceleration[2]
    latitude = route_at(t, world, ROUTE_LATITUDE)
    turning = earth_rotation(latitude)
    carried = transport_rotation(latitude, velocity, world.ellipsoid)
    x, y, z = 2.0 * turning[0] + carried[0], carried[1], 2.0 * turning[2] + carried[2]
    vn, ve, vd = velocity
    return (
        -acceleration[0] - (y * vd - z * ve),
        -acceleration[1] - (z * vn - x * vd),
        GRAVITY - acceleration[2] - (x * ve - y * vn),
    )
