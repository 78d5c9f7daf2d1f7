"""One whole flight of each instrument: intervals in turn, settings applied, crossings acted on, samples kept.

The three instruments are coupled one way only, so each is integrated by itself with its own steps.
"""

from __future__ import annotations

import math

import numpy as np

from gyrochalk.physics.advance import (
    CROSSED,
    DONE,
    J_SAMPLE,
    J_STEP,
    J_TIME,
    J_WHICH,
    JOURNEY,
    advance_for,
)
from gyrochalk.physics.card import (
    CARD_STATES,
    CardModel,
    Surroundings,
    card_derivative,
    card_surroundings,
    level_card,
    resting_card,
    resting_surroundings,
    static_reading,
)
from gyrochalk.physics.compiled import kernel
from gyrochalk.physics.gyro import Around, spin_bearing, spin_derivative, spin_elevation
from gyrochalk.physics.loop import settled_angle
from gyrochalk.physics.motion import Vector, body_axes, motion
from gyrochalk.physics.rosenbrock import WORK_ROWS
from gyrochalk.physics.slaved import (
    SLAVED_STATES,
    SPIN,
    Slaved,
    around_slaved,
    compared,
    gyro_surroundings,
    slaved_derivative,
)
from gyrochalk.physics.world import (
    GYRO_CASE,
    GYRO_RESET,
    GYRO_RESET_TO,
    SET_CARD,
    SET_FAST,
    SET_GYRO,
    SET_HOLD,
    SET_REARM,
    SET_SLAVED,
    SET_SLAVED_GYRO,
    Card,
    Floats,
    Gimbals,
    Ints,
    World,
)

FIRST_STEP = 0.02
"""Step [s] tried first after every change of leg or settings."""
LOCAL_SHARE = 0.06
"""Share of the tolerance on an indicated heading that one step may spend."""
LOG_ROWS = 4096
EVENT_TOPPLED, EVENT_FAST_STARTS, EVENT_FAST_ENDS = 1.0, 2.0, 3.0
"""Codes in the second column of a log; the first is the time [s]."""

Flown = tuple[Floats, Floats, int, float, Floats]
"""Samples, log of events, status, time reached [s], journey (step counts)."""


@kernel
def no_guard(t: float, y: Floats, leg: int, settings: Floats, model: CardModel, values: Floats) -> None:
    """Nothing interrupts a card."""


@kernel
def around_card(t: float, leg: int, settings: Floats, model: CardModel) -> Surroundings:
    """Surroundings of the card during the flight, or while it settles before the flight."""
    if model.settling != 0.0:
        return resting_surroundings(leg, settings, model.world, model.card)
    return card_surroundings(t, leg, settings, model.world, model.card)


@kernel
def card_slope(y: Floats, dy: Floats, surroundings: Surroundings, settings: Floats, model: CardModel) -> None:
    """Derivative of the card."""
    card_derivative(y, dy, surroundings, model.card)


@kernel
def tidy_card(y: Floats) -> None:
    """Keep the quaternion's length at one."""
    length = math.sqrt(y[0] * y[0] + y[1] * y[1] + y[2] * y[2] + y[3] * y[3])
    for i in range(4):
        y[i] /= length


@kernel
def turned_about_vertical(y: Floats, angle: float) -> None:
    """Turn a card's attitude by `angle` [rad] about the true vertical, clockwise."""
    c, s = math.cos(angle / 2.0), math.sin(angle / 2.0)
    w, x, v, z = y[0], y[1], y[2], y[3]
    y[0], y[1], y[2], y[3] = c * w - s * z, c * x - s * v, c * v + s * x, c * z + s * w


advance_card = advance_for(around_card, card_slope, no_guard, tidy_card)


@kernel
def fly_card(
    world: World,
    card: Card,
    breaks: Floats,
    legs: Ints,
    settings: Floats,
    samples: Floats,
    tolerance: float,
    longest: float,
    offset: float,
) -> Flown:
    """Fly the direct compass: states (samples, 8) at `samples` [s].

    `breaks` (k+1,) bound the intervals; `legs` (k,) and `settings` (k, ·) say what holds in each; `offset` [rad] turns
    the card away from rest at the start.
    """
    model, at_rest = CardModel(world, card, 0.0), CardModel(world, resting_card(card), 1.0)
    y = np.empty(CARD_STATES)
    field, gravity, case = resting_surroundings(legs[0], settings[0], world, card)
    level_card(static_north(case[0], field, gravity), y)
    scale = np.array([1.0, 1.0, 1.0, 1.0, 1.0, 1.0, 1.0, 1.0])
    limit = np.array([0.5, 0.5, 0.5, 0.5, 2.0, 2.0, 1.0, 1.0]) * (tolerance * LOCAL_SHARE)
    out = np.empty((samples.shape[0], CARD_STATES))
    log = np.empty((0, 2))
    work = np.empty((WORK_ROWS, CARD_STATES))
    jacobian, matrix = np.empty((CARD_STATES, CARD_STATES)), np.empty((CARD_STATES, CARD_STATES))
    pivots = np.empty(CARD_STATES, np.int64)
    before, now = np.empty(0), np.empty(0)
    none, nothing = np.empty(0), np.empty((0, CARD_STATES))
    journey = np.zeros(JOURNEY)
    journey[J_STEP] = FIRST_STEP
    status = advance_card(
        300.0, y, legs[0], settings[0], at_rest, scale, limit * 1e-3, 20.0,
        none, nothing, journey, work, jacobian, matrix, pivots, before, now,
    )  # fmt: skip
    y[4:] = 0.0
    turned_about_vertical(y, offset)
    journey[:] = 0.0
    if samples.shape[0] > 0 and samples[0] <= breaks[0]:
        out[0, :] = y
        journey[J_SAMPLE] = 1.0
    for k in range(legs.shape[0]):
        if status != DONE:
            break
        journey[J_STEP] = FIRST_STEP
        status = advance_card(
            breaks[k + 1], y, legs[k], settings[k], model, scale, limit, longest,
            samples, out, journey, work, jacobian, matrix, pivots, before, now,
        )  # fmt: skip
    return out, log, status, journey[J_TIME], journey


@kernel
def static_north(nose: Vector, field: Vector, gravity: Vector) -> float:
    """Bearing [rad] of the north-seeking axis of a level card that shows the static reading."""
    return math.atan2(nose[1], nose[0]) - static_reading(nose, field, gravity)


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


@kernel
def slaved_guard(t: float, y: Floats, leg: int, settings: Floats, model: Slaved, values: Floats) -> None:
    """End of fast alignment, its start from a large error, and the inner gimbal's stop."""
    _, difference = compared(t, y, leg, settings, model)
    loop = model.loop
    fast, free = settings[SET_FAST], settings[SET_SLAVED] == 0.0 or settings[SET_HOLD] != 0.0
    values[0] = settled_angle(loop) - abs(difference) if fast == 1.0 else -1.0
    values[1] = -1.0 if fast != 0.0 or loop.automatic != 2 or free else abs(difference) - loop.large_error
    if settings[SET_SLAVED_GYRO + GYRO_CASE] != 0.0:
        values[2] = -1.0
    else:
        _, _, down, _ = case_now(t, leg, model.world, model.gimbals)
        values[2] = abs(spin_elevation((y[SPIN], y[SPIN + 1], y[SPIN + 2]), down)) - model.gimbals.stop


@kernel
def tidy_slaved(y: Floats) -> None:
    """Keep the slaved gyro's spin axis at length one."""
    tidy_spin(y[SPIN : SPIN + 3])


advance_slaved = advance_for(around_slaved, slaved_derivative, slaved_guard, tidy_slaved)


@kernel
def wants_fast(difference: float, armed: bool, row: Floats, automatic: int, large_error: float) -> bool:
    """Whether automatic fast alignment starts now, at the beginning of an interval."""
    if row[SET_SLAVED] == 0.0 or row[SET_HOLD] != 0.0 or abs(difference) < large_error:
        return False
    return automatic == 2 or (automatic == 1 and armed)


@kernel
def reset_slaved(t: float, y: Floats, leg: int, row: Floats, toppled: float, model: Slaved) -> float:
    """Carry out the reset a row of settings asks for; returns the card's new setting [rad]."""
    setting = float(row[SET_CARD])
    _, difference = compared(t, y, leg, row, model)
    target = float(row[SET_SLAVED_GYRO + GYRO_RESET_TO])
    s = (y[SPIN], y[SPIN + 1], y[SPIN + 2])
    indicated = shown(t, s, leg, setting, model.world, model.gimbals)
    if math.isnan(target):
        target = indicated + difference
    if row[SET_SLAVED_GYRO + GYRO_RESET] == 1.0 or toppled != 0.0:
        nose, wing, down, _ = case_now(t, leg, model.world, model.gimbals)
        spin_from(nose, wing, down, 0.0, 0.0, y[SPIN : SPIN + 3])
        return target
    return setting + target - indicated


@kernel
def fly_slaved(
    model: Slaved,
    breaks: Floats,
    legs: Ints,
    settings: Floats,
    samples: Floats,
    tolerance: float,
    longest: float,
    start: Vector,
    hanging: tuple[float, float],
) -> Flown:
    """Fly the detector and the slaved gyro: samples (·, 12): the 9 states, the card's setting, mode, toppled.

    `start` as for `fly_gyro`; `hanging` the pendulum's angles [rad] at the start. Mode: 0 free, 1 slow, 2 fast, 3
    hold.
    """
    n = SLAVED_STATES
    y = np.zeros(n)
    nose, wing, down, _ = case_now(breaks[0], legs[0], model.world, model.gimbals)
    spin_from(nose, wing, down, start[1], start[2], y[SPIN : SPIN + 3])
    y[0], y[1] = hanging
    setting = start[0] + start[1]
    scale = np.array([1.0, 1.0, 1.0, 1.0, 1.0, 1.0, 1.0, 0.1, 1.0])
    limit = np.array([0.3, 0.3, 2.0, 2.0, 1.0, 1.0, 1.0, 1.0, 0.0]) * (tolerance * LOCAL_SHARE)
    limit[8] = 1e-3
    out = np.empty((samples.shape[0], n + 3))
    log = np.empty((LOG_ROWS, 2))
    logged = 0
    work = np.empty((WORK_ROWS, n))
    jacobian, matrix, pivots = np.empty((n, n)), np.empty((n, n)), np.empty(n, np.int64)
    before, now = np.empty(3), np.empty(3)
    journey = np.zeros(JOURNEY)
    toppled, fast, armed = 0.0, 0.0, True
    status = DONE
    for k in range(legs.shape[0]):
        row = settings[k].copy()
        row[SET_CARD] = setting
        row[SET_FAST] = fast
        if row[SET_SLAVED_GYRO + GYRO_RESET] != 0.0:
            setting = reset_slaved(breaks[k], y, legs[k], row, toppled, model)
            row[SET_CARD], toppled = setting, 0.0
        if row[SET_REARM] != 0.0:
            armed = True
        status = CROSSED
        while status == CROSSED:
            if toppled != 0.0:
                row[SET_SLAVED_GYRO + GYRO_CASE] = 1.0
            _, difference = compared(journey[J_TIME], y, legs[k], row, model)
            free = row[SET_SLAVED] == 0.0 or row[SET_HOLD] != 0.0
            if fast != 0.0 and free:
                fast = 0.0
                if logged < LOG_ROWS:
                    log[logged, 0], log[logged, 1] = journey[J_TIME], EVENT_FAST_ENDS
                    logged += 1
            elif fast == 0.0 and wants_fast(difference, armed, row, model.loop.automatic, model.loop.large_error):
                fast = 1.0
                if logged < LOG_ROWS:
                    log[logged, 0], log[logged, 1] = journey[J_TIME], EVENT_FAST_STARTS
                    logged += 1
            if not free:
                armed = False
            row[SET_FAST] = fast
            mode = 3.0 if row[SET_HOLD] != 0.0 else (0.0 if free else 1.0 + fast)
            if k == 0 and journey[J_SAMPLE] == 0.0 and samples.shape[0] > 0 and samples[0] <= breaks[0]:
                for i in range(n):
                    out[0, i] = y[i]
                out[0, n], out[0, n + 1], out[0, n + 2] = setting, mode, toppled
                journey[J_SAMPLE] = 1.0
            journey[J_STEP] = FIRST_STEP
            first = int(journey[J_SAMPLE])
            status = advance_slaved(
                breaks[k + 1], y, legs[k], row, model, scale, limit,
                longest, samples, out, journey, work, jacobian, matrix, pivots, before, now,
            )  # fmt: skip
            for i in range(first, int(journey[J_SAMPLE])):
                out[i, n], out[i, n + 1], out[i, n + 2] = setting, mode, toppled
            if status == CROSSED:
                if journey[J_WHICH] == 2.0:
                    toppled, code = 1.0, EVENT_TOPPLED
                elif journey[J_WHICH] == 0.0:
                    fast, code = 0.0, EVENT_FAST_ENDS
                else:
                    fast, code = 1.0, EVENT_FAST_STARTS
                if logged < LOG_ROWS:
                    log[logged, 0], log[logged, 1] = journey[J_TIME], code
                    logged += 1
        if status != DONE:
            break
    return out, log[:logged], status, journey[J_TIME], journey
