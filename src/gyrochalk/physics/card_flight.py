"""One whole flight of the direct compass: at rest, then interval by interval, samples kept."""

from __future__ import annotations

import math

import numpy as np

from gyrochalk.physics.advance import (
    DONE,
    J_SAMPLE,
    J_STEP,
    J_TIME,
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
from gyrochalk.physics.flown import (
    FIRST_STEP,
    LOCAL_SHARE,
    Flown,
)
from gyrochalk.physics.motion import Vector
from gyrochalk.physics.rosenbrock import WORK_ROWS
from gyrochalk.physics.world import (
    Card,
    Floats,
    Ints,
    World,
)


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


@kernel
def static_north(nose: Vector, field: Vector, gravity: Vector) -> float:
    """Bearing [rad] of the north-seeking axis of a level card that shows the static reading."""
    return math.atan2(nose[1], nose[0]) - static_reading(nose, field, gravity)


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
