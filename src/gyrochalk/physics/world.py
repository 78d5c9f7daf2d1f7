"""The layout of what kernels are given: the flight, the route, and the settings that change during a flight.

Arrays of floats with named column numbers, because kernels take bare numbers.
"""

from __future__ import annotations

from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]

# Columns of `World.legs`, one row per smooth piece of the flight.
LEG_KIND = 0
"""0: constant rates as below; 1: piecewise polynomials between `World.knots`."""
LEG_START = 1
LEG_HEADING = 2
LEG_BANK = 3
LEG_BANK_RATE = 4
LEG_CLIMB = 5
"""Climb angle = pitch [rad] at the start of the piece."""
LEG_CLIMB_RATE = 6
LEG_SPEED = 7
LEG_SPEED_RATE = 8
LEG_YAW_RATE = 9
"""Heading rate without bank (on the ground) [rad/s]."""
LEG_WIND_NORTH = 10
LEG_WIND_EAST = 11
LEG_COLUMNS = 12

# Channels of `World.polynomials`.
POLY_NORTH, POLY_EAST, POLY_DOWN, POLY_HEADING, POLY_PITCH, POLY_BANK = range(6)

# Channels of `World.route`.
ROUTE_LATITUDE, ROUTE_FIELD_NORTH, ROUTE_FIELD_EAST, ROUTE_FIELD_DOWN = range(4)


class World(NamedTuple):
    """A flight over the Earth.

    `legs` (n, LEG_COLUMNS); `knots` (m+1,) [s] and `polynomials` (6, 4, m), highest power first, for recorded
    flights; `route` (r, 4, 4): piece, power (highest first), channel [rad, T, T, T] on evenly spaced pieces of
    `route_step_s`; switches 0 or 1.
    """

    legs: Floats
    knots: Floats
    polynomials: Floats
    route: Floats
    route_step_s: float
    earth_rate: float
    transport: float
    coriolis: float
    ellipsoid: float


# Columns of the settings table, one row per interval between changes.
SET_SLAVED = 0
SET_HOLD = 1
SET_MOTOR = 2
SET_LEGS_11, SET_LEGS_12, SET_LEGS_21, SET_LEGS_22 = 3, 4, 5, 6
"""The electrical map from the field in the detector's plane to the field its lines report."""
SET_DISTURBANCE_NORTH, SET_DISTURBANCE_EAST, SET_DISTURBANCE_DOWN = 7, 8, 9
SET_CARD_LOAD_X, SET_CARD_LOAD_Y, SET_CARD_LOAD_Z = 10, 11, 12
SET_DETECTOR_LOAD_X, SET_DETECTOR_LOAD_Y, SET_DETECTOR_LOAD_Z = 13, 14, 15
SET_REARM = 16
"""1: this interval begins with a switch-on, which arms automatic fast alignment again."""
SET_GYRO = 17
"""First column of the unslaved gyro's settings (GYRO_* offsets)."""
SET_SLAVED_GYRO = 26
"""First column of the slaved gyro's settings."""
SET_FAST = 35
"""1 while automatic fast alignment runs (written by the kernel)."""
SET_CARD = 36
"""The reading [rad] shown with the spin axis under the nose (written by the kernel)."""
SETTING_COLUMNS = 37

# Offsets from SET_GYRO and SET_SLAVED_GYRO.
GYRO_DRIFT = 0
"""Drift [rad/s], reading increases."""
GYRO_NUT = 1
"""Rate the latitude nut applies [rad/s]: Earth rate times the sine of the latitude set, or 0."""
GYRO_ROTOR_ON = 2
GYRO_ROTOR_SINCE = 3
GYRO_ROTOR_FRACTION = 4
"""Rotor speed as a fraction of full at GYRO_ROTOR_SINCE."""
GYRO_ROTOR_TIME = 5
"""Time constant of running up or down [s]."""
GYRO_RESET = 6
"""At the start of the interval: 0 nothing, 1 cage, erect and set, 2 turn the card on its clutch."""
GYRO_RESET_TO = 7
"""The reading to set [rad], NaN: what the detector reads."""
GYRO_CASE = 8
"""1: the rotor is too slow to hold; the gimbals move with the case."""


class Gimbals(NamedTuple):
    """A gyro's constants: switches 0/1, rates [rad/s], angles [rad], noise [rad/√s].

    `levelling` 0 none, 1 to the case, 2 to apparent gravity, 3 ideal. `noise_step_s` spaces the random rates.
    """

    gimballing: float
    levelling: int
    levelling_rate: float
    levelling_band: float
    stop: float
    noise: float
    noise_step_s: float
    noise_key: np.uint64


class Card(NamedTuple):
    """A direct compass's constants, SI: moment, inertias, pendulosity P [N·m], drag, friction torque, stop."""

    moment: float
    inertia_tilt: float
    inertia_polar: float
    pendulosity: float
    drag_tilt: float
    drag_polar: float
    friction: float
    friction_rate: float
    stop: float
    fluid_time: float
    swirl: float
    iron: Floats
    """(4, 3): I + S over three rows, then the hard iron (P, Q, R) [T]."""


class Pendulum(NamedTuple):
    """A detector's constants: natural rate [rad/s], damping ratio, freedom [rad]; `tilt` 0 keeps it level; `iron`
    (4, 3) as for the card."""

    natural_rate: float
    damping: float
    freedom: float
    tilt: float
    iron: Floats


class Slaving(NamedTuple):
    """A loop's constants: rates [rad/s], angles [rad], field [T]; `textbook` 1 for the plain rate-and-lock law;
    `automatic` 0 never, 1 at switch-on, 2 always."""

    textbook: float
    slow_rate: float
    band: float
    dead_zone: float
    lag: float
    reference_field: float
    fast_rate: float
    large_error: float
    settled: float
    automatic: int
    hold_rate: float
    hold_band: float
    indicator_time: float
