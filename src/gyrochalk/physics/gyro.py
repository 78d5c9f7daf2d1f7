"""The directional gyro in its two gimbals, as one law for the spin axis s (unit vector, NED).

s' = −ω_NED × s + [T_i i + T_o (o − (o·s) s)]/h,  reading = set − β,  β = atan2(s·y_body, s·x_body)

o is the outer gimbal axis (body down), i = (o × s)/|o × s| the inner one. T_i/h = −drift − random − nut·Ω sinφ_set −
correction: a positive drift or correction makes the reading increase. Rates of every torque go with 1/rotor speed.
"""

from __future__ import annotations

import math

import numpy as np

from gyrochalk.physics.compiled import kernel
from gyrochalk.physics.motion import Vector
from gyrochalk.physics.vectors import clamp, cross, dot, norm
from gyrochalk.physics.world import (
    GYRO_DRIFT,
    GYRO_NUT,
    GYRO_ROTOR_FRACTION,
    GYRO_ROTOR_ON,
    GYRO_ROTOR_SINCE,
    GYRO_ROTOR_TIME,
    Floats,
    Gimbals,
)

Around = tuple[Vector, Vector, Vector, Vector, float, float]
"""What a gyro meets, all NED: body down axis, the case's rotation, ω_NED, apparent gravity; its own wander [rad/s] and
1/rotor speed."""
SLOWEST_ROTOR = 0.05
"""Rotor speed, as a fraction of full, below which the gyro holds nothing (assumed)."""


@kernel
def rotor_fraction(t: float, settings: Floats, first: int) -> float:
    """Rotor speed as a fraction of full at time `t` [s]: exponential running up and running down."""
    start = settings[first + GYRO_ROTOR_FRACTION]
    goal = 1.0 if settings[first + GYRO_ROTOR_ON] != 0.0 else 0.0
    elapsed = t - settings[first + GYRO_ROTOR_SINCE]
    return float(goal + (start - goal) * math.exp(-elapsed / settings[first + GYRO_ROTOR_TIME]))


@kernel
def mixed(key: np.uint64, counter: np.uint64) -> np.uint64:
    """64 well-mixed bits from a key and a counter (the finaliser of splitmix64)."""
    z = key + counter * np.uint64(0x9E3779B97F4A7C15)
    z = (z ^ (z >> np.uint64(30))) * np.uint64(0xBF58476D1CE4E5B9)
    z = (z ^ (z >> np.uint64(27))) * np.uint64(0x94D049BB133111EB)
    return z ^ (z >> np.uint64(31))


@kernel
def normal_number(key: np.uint64, counter: int) -> float:
    """A standard normal number that depends on nothing but key and counter."""
    even = np.uint64(2 * counter)
    first = (mixed(key, even) >> np.uint64(11)) * (1.0 / 9007199254740992.0)
    second = (mixed(key, even + np.uint64(1)) >> np.uint64(11)) * (1.0 / 9007199254740992.0)
    return math.sqrt(-2.0 * math.log(1.0 - first)) * math.cos(2.0 * math.pi * second)


@kernel
def random_rate(t: float, gimbals: Gimbals) -> float:
    """Random drift [rad/s] whose integral is a random walk of `gimbals.noise` rad/√s.

    Numbers stand every `noise_step_s` and are joined by straight lines, so that noise is smooth to the integrator and
    the same whatever its steps.
    """
    if gimbals.noise == 0.0:
        return 0.0
    place = t / gimbals.noise_step_s
    index = int(place)
    part = place - index
    here, there = normal_number(gimbals.noise_key, index), normal_number(gimbals.noise_key, index + 1)
    return gimbals.noise / math.sqrt(gimbals.noise_step_s) * (here * (1.0 - part) + there * part)


@kernel
def spin_elevation(s: Vector, outer: Vector) -> float:
    """Angle [rad] of the spin axis from the plane square to the outer gimbal axis, towards it positive."""
    return math.asin(clamp(dot(s, outer), 1.0))


@kernel
def levelling_rate(s: Vector, outer: Vector, gravity: Vector, gimbals: Gimbals) -> float:
    """Rate [rad/s] of the levelling torque towards `outer`: −rate·sat(tilt/band), tilt from case or gravity."""
    if gimbals.levelling == 1:
        tilt = spin_elevation(s, outer)
    elif gimbals.levelling == 2:
        tilt = math.asin(clamp(dot(s, gravity) / max(norm(gravity), 1e-9), 1.0))
    else:
        return 0.0
    return -gimbals.levelling_rate * clamp(tilt / gimbals.levelling_band, 1.0)


@kernel
def free_wander(t: float, settings: Floats, first: int, gimbals: Gimbals) -> tuple[float, float]:
    """The gyro's own wander [rad/s] (drift, random, nut), and 1/rotor speed, which every torque's rate goes with."""
    scale = 1.0 / max(rotor_fraction(t, settings, first), SLOWEST_ROTOR)
    return settings[first + GYRO_DRIFT] + random_rate(t, gimbals) + settings[first + GYRO_NUT], scale


@kernel
def spin_derivative(s: Vector, around: Around, correction: float, held: float, gimbals: Gimbals) -> Vector:
    """Rate of the spin axis NED [1/s].

    `around` as of `slaved.gyro_surroundings`, `correction` the slaving rate [rad/s] (0 for an unslaved gyro), `held` 1
    while the rotor is too slow and the gimbals move with the case.
    """
    down, case_turning, frame, gravity, own, scale = around
    if held != 0.0:
        return cross(case_turning, s)
    level = gimbals.gimballing == 0.0 or gimbals.levelling == 3
    outer = (0.0, 0.0, 1.0) if level else down
    inner = cross(outer, s)
    about_inner = -(own + correction) * scale / norm(inner)
    about_outer = levelling_rate(s, outer, gravity, gimbals) * scale
    along = dot(outer, s)
    carried = cross(s, frame)
    rate0 = carried[0] + about_inner * inner[0] + about_outer * (outer[0] - along * s[0])
    rate1 = carried[1] + about_inner * inner[1] + about_outer * (outer[1] - along * s[1])
    rate2 = carried[2] + about_inner * inner[2] + about_outer * (outer[2] - along * s[2])
    if gimbals.levelling == 3:
        return rate0, rate1, 0.0
    return rate0, rate1, rate2


@kernel
def spin_bearing(s: Vector, nose: Vector, wing: Vector, heading: float, gimbals: Gimbals) -> float:
    """β [rad]: bearing of the spin axis from the nose about the outer gimbal axis, clockwise."""
    if gimbals.gimballing == 0.0:
        return math.atan2(s[1], s[0]) - heading
    return math.atan2(dot(s, wing), dot(s, nose))
