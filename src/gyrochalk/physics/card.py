"""The direct-reading compass: a magnet card hung pendulously in fluid, and the static law it settles to.

J w' + w × J w = m e1 × RᵀB' + (P/g) e3 × Rᵀ(g − a) − diag(Dt, Dt, Da)(w − Rᵀ W_fluid) − T_f tanh(w_rel/ε) e3 + stop
w_f' = (case spin about its own vertical − w_f)/τ_f

State, 8 numbers: quaternion card → NED (scalar first), body rates w [rad/s], fluid spin w_f [rad/s].
"""

from __future__ import annotations

import math
from typing import NamedTuple

from gyrochalk.physics.compiled import kernel
from gyrochalk.physics.earth import apparent_gravity, field_at
from gyrochalk.physics.iron import into_body, out_of_body, with_iron
from gyrochalk.physics.motion import GRAVITY, Vector, body_axes, body_rates, motion
from gyrochalk.physics.vectors import dot
from gyrochalk.physics.world import (
    LEG_KIND,
    SET_CARD_LOAD_X,
    SET_CARD_LOAD_Y,
    SET_CARD_LOAD_Z,
    Card,
    Floats,
    World,
)

CARD_STATES = 8
STOP_STIFFNESS = 20.0
"""Torque of the tilt stop per radian beyond it, in units of the pendulosity P."""


class CardModel(NamedTuple):
    """A card in its world; `settling` 1 while it comes to rest before the flight."""

    world: World
    card: Card
    settling: float


Case = tuple[Vector, Vector, Vector, Vector]
Surroundings = tuple[Vector, Vector, Case]


@kernel
def card_surroundings(t: float, leg: int, settings: Floats, world: World, card: Card) -> Surroundings:
    """Field at the compass NED [T], apparent gravity NED [m/s²], and the case: its axes in NED and its rates."""
    attitude, rates, velocity, acceleration = motion(t, leg, world)
    nose, wing, down = body_axes(attitude)
    load = (settings[SET_CARD_LOAD_X], settings[SET_CARD_LOAD_Y], settings[SET_CARD_LOAD_Z])
    inside = with_iron(into_body(field_at(t, world), nose, wing, down), card.iron, load)
    field = out_of_body(inside, nose, wing, down)
    gravity = apparent_gravity(t, velocity, acceleration, world)
    return field, gravity, (nose, wing, down, body_rates(attitude, rates))


@kernel
def resting_surroundings(leg: int, settings: Floats, world: World, card: Card) -> Surroundings:
    """The surroundings before a flight begins: its first moment without turning and, on a planned leg, without
    acceleration."""
    _, _, velocity, acceleration = motion(0.0, leg, world)
    if world.legs[leg][LEG_KIND] == 0.0:
        acceleration = (0.0, 0.0, 0.0)
    field, _, case = card_surroundings(0.0, leg, settings, world, card)
    nose, wing, down, _ = case
    gravity = apparent_gravity(0.0, velocity, acceleration, world)
    return field, gravity, (nose, wing, down, (0.0, 0.0, 0.0))


@kernel
def resting_card(card: Card) -> Card:
    """The same card on a perfect pivot, so that it settles exactly."""
    return Card(
        card.moment,
        card.inertia_tilt,
        card.inertia_polar,
        card.pendulosity,
        card.drag_tilt,
        card.drag_polar,
        0.0,
        card.friction_rate,
        card.stop,
        card.fluid_time,
        card.swirl,
        card.iron,
    )


@kernel
def card_axes(y: Floats) -> Case:
    """Card axes e1 (north-seeking), e2, e3 (down) in NED, and the card's rates, from its state."""
    w, x, v, z = y[0], y[1], y[2], y[3]
    e1 = (1.0 - 2.0 * (v * v + z * z), 2.0 * (x * v + w * z), 2.0 * (x * z - w * v))
    e2 = (2.0 * (x * v - w * z), 1.0 - 2.0 * (x * x + z * z), 2.0 * (v * z + w * x))
    e3 = (2.0 * (x * z + w * v), 2.0 * (v * z - w * x), 1.0 - 2.0 * (x * x + v * v))
    return e1, e2, e3, (y[4], y[5], y[6])


@kernel
def stop_torque(tilt_cos: float, x: float, y: float, card: Card) -> tuple[float, float]:
    """Torque about card e1, e2 [N·m] of the stop, from the case's down axis in card axes (x, y, tilt_cos)."""
    sine = math.sqrt(x * x + y * y)
    beyond = math.atan2(sine, tilt_cos) - card.stop
    if beyond <= 0.0 or sine < 1e-12:
        return 0.0, 0.0
    torque = STOP_STIFFNESS * card.pendulosity * beyond / sine
    return -torque * y, torque * x


@kernel
def card_derivative(y: Floats, dy: Floats, surroundings: Surroundings, card: Card) -> None:
    """Write the time derivative of the card's state in `surroundings` into `dy`."""
    field, gravity, case = surroundings
    nose, wing, down, case_rates = case
    e1, e2, e3, w = card_axes(y)
    f2, f3 = dot(field, e2), dot(field, e3)
    g1, g2 = dot(gravity, e1), dot(gravity, e2)
    pendulous = card.pendulosity / GRAVITY
    roll, pitch, yaw = case_rates
    fluid = (
        roll * nose[0] + pitch * wing[0] + y[7] * down[0],
        roll * nose[1] + pitch * wing[1] + y[7] * down[1],
        roll * nose[2] + pitch * wing[2] + y[7] * down[2],
    )
    down1, down2, down3 = dot(down, e1), dot(down, e2), dot(down, e3)
    case_spin = roll * dot(nose, e3) + pitch * dot(wing, e3) + yaw * down3
    stop1, stop2 = stop_torque(down3, down1, down2, card)
    torque1 = -pendulous * g2 - card.drag_tilt * (w[0] - dot(fluid, e1)) + stop1
    torque2 = -card.moment * f3 + pendulous * g1 - card.drag_tilt * (w[1] - dot(fluid, e2)) + stop2
    torque3 = card.moment * f2 - card.drag_polar * (w[2] - dot(fluid, e3))
    torque3 -= card.friction * math.tanh((w[2] - case_spin) / card.friction_rate)
    tilt, polar = card.inertia_tilt, card.inertia_polar
    dy[4] = (torque1 - w[1] * w[2] * (polar - tilt)) / tilt
    dy[5] = (torque2 - w[2] * w[0] * (tilt - polar)) / tilt
    dy[6] = torque3 / polar
    dy[0] = 0.5 * (-y[1] * w[0] - y[2] * w[1] - y[3] * w[2])
    dy[1] = 0.5 * (y[0] * w[0] + y[2] * w[2] - y[3] * w[1])
    dy[2] = 0.5 * (y[0] * w[1] - y[1] * w[2] + y[3] * w[0])
    dy[3] = 0.5 * (y[0] * w[2] + y[1] * w[1] - y[2] * w[0])
    dy[7] = (card.swirl * yaw - y[7]) / card.fluid_time


@kernel
def card_reading(y: Floats, nose: Vector) -> float:
    """What the card shows [rad], atan2(n·e2, n·e1) with n the nose: not wrapped beyond ±π."""
    e1, e2, _, _ = card_axes(y)
    return math.atan2(dot(nose, e2), dot(nose, e1))


@kernel
def card_tilt(y: Floats) -> float:
    """Angle [rad] between the card's own vertical and the true vertical."""
    sine = 2.0 * math.sqrt((y[1] * y[1] + y[2] * y[2]) * (y[0] * y[0] + y[3] * y[3]))
    return math.atan2(sine, 1.0 - 2.0 * (y[1] * y[1] + y[2] * y[2]))


@kernel
def level_card(north: float, y: Floats) -> None:
    """Put a level card at rest, its north-seeking axis at bearing `north` [rad]."""
    y[:] = 0.0
    y[0], y[3] = math.cos(north / 2.0), math.sin(north / 2.0)


@kernel
def static_reading(nose: Vector, field: Vector, gravity: Vector) -> float:
    """What a card or detector hanging along `gravity` in `field` settles to [rad]: the static law.

    The field is projected on the plane square to apparent gravity; vectors in any one frame, any length.
    For a turn with bank φ it is atan2(sin ψ cos φ − tan I sin φ, cos ψ) (williams-compass).
    """
    g2 = dot(gravity, gravity)
    along = dot(field, gravity) / g2
    flat = (field[0] - along * gravity[0], field[1] - along * gravity[1], field[2] - along * gravity[2])
    east = (
        gravity[1] * flat[2] - gravity[2] * flat[1],
        gravity[2] * flat[0] - gravity[0] * flat[2],
        gravity[0] * flat[1] - gravity[1] * flat[0],
    )
    return math.atan2(dot(nose, east) / math.sqrt(g2), dot(nose, flat))
