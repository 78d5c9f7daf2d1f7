"""One whole flight of the detector and the slaved gyro: settings applied, crossings acted on, samples kept."""

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
from gyrochalk.physics.compiled import kernel
from gyrochalk.physics.flown import (
    EVENT_FAST_ENDS,
    EVENT_FAST_STARTS,
    EVENT_TOPPLED,
    FIRST_STEP,
    LOCAL_SHARE,
    LOG_ROWS,
    Flown,
)
from gyrochalk.physics.gyro import spin_elevation
from gyrochalk.physics.gyro_flight import case_now, shown, spin_from, tidy_spin
from gyrochalk.physics.loop import settled_angle
from gyrochalk.physics.motion import Vector
from gyrochalk.physics.rosenbrock import WORK_ROWS
from gyrochalk.physics.slaved import (
    SLAVED_STATES,
    SPIN,
    Slaved,
    around_slaved,
    compared,
    slaved_derivative,
)
from gyrochalk.physics.world import (
    GYRO_CASE,
    GYRO_RESET,
    GYRO_RESET_TO,
    SET_CARD,
    SET_FAST,
    SET_HOLD,
    SET_REARM,
    SET_SLAVED,
    SET_SLAVED_GYRO,
    Floats,
    Ints,
)


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
    limit = np.array([0.3, 0.3, 2.0, 2.0, 1.0, 1.0, 1.0, 0.3, 0.0]) * (tolerance * LOCAL_SHARE)
    limit[8] = 3e-4
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
