"""From recorded states to what each instrument shows, sample by sample."""

from __future__ import annotations

import math

import numpy as np

from gyrochalk.physics.card import card_axes, card_reading, card_tilt
from gyrochalk.physics.compiled import kernel
from gyrochalk.physics.detector import field_heading, hanging_angles, plane_down, plane_tilt, reported_field
from gyrochalk.physics.earth import apparent_gravity, field_at, route_at
from gyrochalk.physics.gyro import spin_bearing, spin_elevation
from gyrochalk.physics.gyro_flight import case_now
from gyrochalk.physics.iron import into_body, out_of_body
from gyrochalk.physics.loop import comparison, demanded_rate
from gyrochalk.physics.motion import body_axes, motion
from gyrochalk.physics.slaved import CORRECTION, INDICATOR, SPIN, Slaved
from gyrochalk.physics.tilts import section_angles
from gyrochalk.physics.vectors import clamp, norm
from gyrochalk.physics.world import (
    LEG_KIND,
    ROUTE_LATITUDE,
    SET_CARD,
    SET_FAST,
    SET_MOTOR,
    Floats,
    Gimbals,
    Ints,
    Pendulum,
    World,
)

MOTION_COLUMNS = 17
CARD_COLUMNS = 5
SLAVED_COLUMNS = 11


@kernel
def read_motion(samples: Floats, legs: Ints, world: World) -> Floats:
    """Motion and surroundings at `samples` [s], whose legs are `legs`.

    Columns: heading, pitch, bank [rad], heading rate [rad/s], ground velocity NED [m/s], its rate NED [m/s²], apparent
    gravity [m/s²], field NED [T], latitude [rad], bank and pitch [rad] of a plane square to apparent gravity.
    """
    out = np.empty((samples.shape[0], MOTION_COLUMNS))
    for i in range(samples.shape[0]):
        t = samples[i]
        attitude, rates, velocity, acceleration = motion(t, legs[i], world)
        out[i, 0], out[i, 1], out[i, 2], out[i, 3] = attitude[0], attitude[1], attitude[2], rates[0]
        for k in range(3):
            out[i, 4 + k] = velocity[k]
            out[i, 7 + k] = acceleration[k]
        gravity = apparent_gravity(t, velocity, acceleration, world)
        out[i, 10] = norm(gravity)
        field = field_at(t, world)
        for k in range(3):
            out[i, 11 + k] = field[k]
        out[i, 14] = route_at(t, world, ROUTE_LATITUDE)
        out[i, 15], out[i, 16] = section_angles(gravity, attitude[0])
    return out


@kernel
def read_card(samples: Floats, legs: Ints, states: Floats, world: World) -> Floats:
    """Columns: the card's reading, its tilt [rad], the fluid's spin [rad/s], its plane's bank and pitch [rad]."""
    out = np.empty((samples.shape[0], CARD_COLUMNS))
    for i in range(samples.shape[0]):
        attitude, _, _, _ = motion(samples[i], legs[i], world)
        nose, _, _ = body_axes(attitude)
        out[i, 0] = card_reading(states[i], nose)
        out[i, 1] = card_tilt(states[i])
        out[i, 2] = states[i, 7]
        _, _, below, _ = card_axes(states[i])
        out[i, 3], out[i, 4] = section_angles(below, attitude[0])
    return out


@kernel
def read_gyro(samples: Floats, legs: Ints, states: Floats, world: World, gimbals: Gimbals) -> Floats:
    """Columns: the unslaved gyro's reading, and the spin axis raised from its plane [rad]."""
    out = np.empty((samples.shape[0], 2))
    for i in range(samples.shape[0]):
        nose, wing, down, heading = case_now(samples[i], legs[i], world, gimbals)
        s = (states[i, 0], states[i, 1], states[i, 2])
        out[i, 0] = states[i, 3] - spin_bearing(s, nose, wing, heading, gimbals)
        out[i, 1] = -spin_elevation(s, down)
    return out


@kernel
def read_slaved(
    samples: Floats, legs: Ints, intervals: Ints, settings: Floats, states: Floats, model: Slaved
) -> Floats:
    """Columns: detector heading [rad], field it reports [T], its plane's tilt [rad], indicated heading [rad], detector
    minus indicated [rad], correction rate [rad/s], indicator, spin axis raised [rad], bank and pitch [rad] of the
    detector's plane, the correction rate the amplifier asks for whether or not the motor turns [rad/s]."""
    out = np.empty((samples.shape[0], SLAVED_COLUMNS))
    world, pendulum, gimbals, loop = model
    for i in range(samples.shape[0]):
        t = samples[i]
        row = settings[intervals[i]].copy()
        row[SET_CARD] = states[i, 9]
        row[SET_FAST] = 1.0 if states[i, 10] == 2.0 else 0.0
        attitude, _, _, _ = motion(t, legs[i], world)
        nose, wing, down = body_axes(attitude)
        along, across = reported_field(states[i, 0], states[i, 1], field_at(t, world), nose, wing, down, row, pendulum)
        s = (states[i, SPIN], states[i, SPIN + 1], states[i, SPIN + 2])
        indicated = row[SET_CARD] - spin_bearing(s, nose, wing, attitude[0], gimbals)
        signal, difference = comparison(along, across, indicated, loop)
        out[i, 0] = field_heading(along, across)
        out[i, 1] = math.sqrt(along * along + across * across)
        out[i, 2] = plane_tilt(states[i, 0], states[i, 1], nose, wing, down, pendulum)
        out[i, 3] = indicated
        out[i, 4] = difference
        if loop.textbook != 0.0 or loop.lag == 0.0:
            out[i, 5] = demanded_rate(signal, difference, row, loop)
        else:
            out[i, 5] = states[i, CORRECTION]
        out[i, 6] = clamp(states[i, INDICATOR], 1.0)
        _, _, outer, _ = case_now(t, legs[i], world, gimbals)
        out[i, 7] = -spin_elevation(s, outer)
        below = out_of_body(plane_down(states[i, 0], states[i, 1], nose, wing, down, pendulum), nose, wing, down)
        out[i, 8], out[i, 9] = section_angles(below, attitude[0])
        row[SET_MOTOR] = 1.0
        out[i, 10] = demanded_rate(signal, difference, row, loop)
    return out


@kernel
def hanging_at_start(world: World, pendulum: Pendulum) -> tuple[float, float]:
    """The detector pendulum's resting angles [rad] before the flight: a planned leg does not yet accelerate."""
    attitude, _, velocity, acceleration = motion(0.0, 0, world)
    if world.legs[0][LEG_KIND] == 0.0:
        acceleration = (0.0, 0.0, 0.0)
    nose, wing, down = body_axes(attitude)
    gravity = apparent_gravity(0.0, velocity, acceleration, world)
    return hanging_angles(into_body(gravity, nose, wing, down), pendulum)
