"""One whole flight of the unslaved gyro, and how a spin axis is set in its case."""

from __future__ import annotations

import math

import numpy as np

from gyrochalk.physics.advance import (
    CROSSED,
    DONE,
    J_SAMPLE,
    J_STEP,
    J_TIME,
    JOURNEY,
    advance_for,
)
from gyrochalk.physics.compiled import kernel
from gyrochalk.physics.flown import (
    EVENT_TOPPLED,
    FIRST_STEP,
    LOCAL_SHARE,
    LOG_ROWS,
    Flown,
)
from gyrochalk.physics.gyro import Around, spin_bearing, spin_derivative, spin_elevation
from gyrochalk.physics.motion import Vector, body_axes, motion
from gyrochalk.physics.rosenbrock import WORK_ROWS
from gyrochalk.physics.slaved import (
    gyro_surroundings,
)
from gyrochalk.physics.world import (
    GYRO_CASE,
    GYRO_RESET,
    GYRO_RESET_TO,
    SET_GYRO,
    Floats,
    Gimbals,
    Ints,
    World,
)


@kernel
def spin_from(nose: Vector, wing: Vector, down: Vector, bearing: float, tilt: float, y: Floats) -> None:
    """Put the spin axis at `bearing` [rad] clockwise from the nose, raised by `tilt` [rad], in body axes."""
    along, across, up = math.cos(tilt) * math.cos(bearing), math.cos(tilt) * math.sin(bearing), math.sin(tilt)
    for i in range(3):
        y[i] = along * nose[i] + across * wing[i] - up * down[i]


@kernel
def case_now(t: float, leg: int, world: World, gimbals: Gimbals) -> tuple[Vector, Vector, Vector, float]:
    """The gyro's outer frame: nose, wing and down axes (level ones if gimballing is off) and the heading [rad]."""
    attitude, _, _, _ = motion(t, leg, world)
    if gimbals.gimballing == 0.0:
        attitude = (attitude[0], 0.0, 0.0)
    nose, wing, down = body_axes(attitude)
    return nose, wing, down, attitude[0]


@kernel
def shown(t: float, s: Vector, leg: int, setting: float, world: World, gimbals: Gimbals) -> float:
    """The gyro's reading [rad]: set − β."""
    nose, wing, _, heading = case_now(t, leg, world, gimbals)
    return setting - spin_bearing(s, nose, wing, heading, gimbals)


@kernel
def around_gyro(t: float, leg: int, settings: Floats, model: tuple[World, Gimbals]) -> Around:
    """Surroundings of the unslaved gyro."""
    world, gimbals = model
    return gyro_surroundings(t, leg, settings, SET_GYRO, world, gimbals)


@kernel
def gyro_slope(y: Floats, dy: Floats, around: Around, settings: Floats, model: tuple[World, Gimbals]) -> None:
    """Derivative of the unslaved gyro's spin axis."""
    rate = spin_derivative((y[0], y[1], y[2]), around, 0.0, settings[SET_GYRO + GYRO_CASE], model[1])
    dy[0], dy[1], dy[2] = rate


@kernel
def gyro_guard(t: float, y: Floats, leg: int, settings: Floats, model: tuple[World, Gimbals], values: Floats) -> None:
    """The inner gimbal's stop."""
    world, gimbals = model
    if settings[SET_GYRO + GYRO_CASE] != 0.0:
        values[0] = -1.0
        return
    _, _, down, _ = case_now(t, leg, world, gimbals)
    values[0] = abs(spin_elevation((y[0], y[1], y[2]), down)) - gimbals.stop


@kernel
def tidy_spin(y: Floats) -> None:
    """Keep the spin axis's length at one."""
    length = math.sqrt(y[0] * y[0] + y[1] * y[1] + y[2] * y[2])
    for i in range(3):
        y[i] /= length


advance_gyro = advance_for(around_gyro, gyro_slope, gyro_guard, tidy_spin)


@kernel
def fly_gyro(
    world: World,
    gimbals: Gimbals,
    breaks: Floats,
    legs: Ints,
    settings: Floats,
    samples: Floats,
    tolerance: float,
    longest: float,
    start: Vector,
) -> Flown:
    """Fly the unslaved gyro: samples (·, 5) of the spin axis, the card's setting [rad] and 1 where toppled.

    `start`: reading, spin axis's bearing from the nose, and its tilt at the start [rad].
    """
    model = (world, gimbals)
    y = np.empty(3)
    nose, wing, down, _ = case_now(breaks[0], legs[0], world, gimbals)
    spin_from(nose, wing, down, start[1], start[2], y)
    setting = start[0] + start[1]
    scale = np.ones(3)
    limit = np.ones(3) * (tolerance * LOCAL_SHARE)
    out = np.empty((samples.shape[0], 5))
    log = np.empty((LOG_ROWS, 2))
    logged = 0
    work = np.empty((WORK_ROWS, 3))
    jacobian, matrix, pivots = np.empty((3, 3)), np.empty((3, 3)), np.empty(3, np.int64)
    before, now = np.empty(1), np.empty(1)
    journey = np.zeros(JOURNEY)
    toppled = 0.0
    status = DONE
    if samples.shape[0] > 0 and samples[0] <= breaks[0]:
        out[0, 0], out[0, 1], out[0, 2], out[0, 3], out[0, 4] = y[0], y[1], y[2], setting, toppled
        journey[J_SAMPLE] = 1.0
    for k in range(legs.shape[0]):
        row = settings[k].copy()
        if row[SET_GYRO + GYRO_RESET] != 0.0:
            nose, wing, down, _ = case_now(breaks[k], legs[k], world, gimbals)
            spin_from(nose, wing, down, 0.0, 0.0, y)
            setting, toppled = row[SET_GYRO + GYRO_RESET_TO], 0.0
        status = CROSSED
        while status == CROSSED:
            if toppled != 0.0:
                row[SET_GYRO + GYRO_CASE] = 1.0
            journey[J_STEP] = FIRST_STEP
            first = int(journey[J_SAMPLE])
            status = advance_gyro(
                breaks[k + 1], y, legs[k], row, model, scale, limit, longest,
                samples, out, journey, work, jacobian, matrix, pivots, before, now,
            )  # fmt: skip
            for i in range(first, int(journey[J_SAMPLE])):
                out[i, 3], out[i, 4] = setting, toppled
            if status == CROSSED:
                toppled = 1.0
                if logged < LOG_ROWS:
                    log[logged, 0], log[logged, 1] = journey[J_TIME], EVENT_TOPPLED
                    logged += 1
        if status != DONE:
            break
    return out, log[:logged], status, journey[J_TIME], journey
