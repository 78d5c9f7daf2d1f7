"""The slaved gyro-magnetic compass as one block: the detector's pendulum, the gyro, the loop between them.

State, 9 numbers: pendulum lateral and longitudinal angles [rad] and rates, spin axis NED, correction rate after the
lag [rad/s], synchronisation indicator.
"""

from __future__ import annotations

from typing import NamedTuple

from gyrochalk.physics.compiled import kernel
from gyrochalk.physics.detector import hanging_angles, reported_field
from gyrochalk.physics.earth import apparent_gravity, field_at, frame_rotation
from gyrochalk.physics.gyro import Around, free_wander, spin_bearing, spin_derivative
from gyrochalk.physics.iron import into_body, out_of_body
from gyrochalk.physics.loop import comparison, demanded_rate, indicator_drive
from gyrochalk.physics.motion import Vector, body_axes, body_rates, motion
from gyrochalk.physics.world import (
    GYRO_CASE,
    SET_CARD,
    SET_SLAVED_GYRO,
    Floats,
    Gimbals,
    Pendulum,
    Slaving,
    World,
)

SLAVED_STATES = 9
SPIN = 4
"""Index of the spin axis in the state."""
CORRECTION = 7
INDICATOR = 8


class Slaved(NamedTuple):
    """Everything the slaved compass is made of."""

    world: World
    pendulum: Pendulum
    gimbals: Gimbals
    loop: Slaving


@kernel
def gyro_surroundings(t: float, leg: int, settings: Floats, first: int, world: World, gimbals: Gimbals) -> Around:
    """What a gyro meets at a time; `first` is its settings column."""
    attitude, rates, velocity, acceleration = motion(t, leg, world)
    nose, wing, down = body_axes(attitude)
    turning = out_of_body(body_rates(attitude, rates), nose, wing, down)
    frame = frame_rotation(t, velocity, world)
    gravity = apparent_gravity(t, velocity, acceleration, world)
    own, scale = free_wander(t, settings, first, gimbals)
    return down, turning, frame, gravity, own, scale


SlavedAround = tuple[Around, Vector, Vector, Vector, float, float, float]
"""What the slaved compass meets: as a gyro, the Earth's field NED [T], nose and wing axes NED, heading [rad], the
pendulum's resting angles [rad]."""


@kernel
def around_slaved(t: float, leg: int, settings: Floats, model: Slaved) -> SlavedAround:
    """What the slaved compass meets at a time."""
    world = model.world
    attitude, _, _, _ = motion(t, leg, world)
    nose, wing, down = body_axes(attitude)
    around = gyro_surroundings(t, leg, settings, SET_SLAVED_GYRO, world, model.gimbals)
    lateral, longitudinal = hanging_angles(into_body(around[3], nose, wing, down), model.pendulum)
    return around, field_at(t, world), nose, wing, attitude[0], lateral, longitudinal


@kernel
def compared(t: float, y: Floats, leg: int, settings: Floats, model: Slaved) -> tuple[float, float]:
    """The comparison's signal and detector minus indicated [rad], from a state."""
    attitude, _, _, _ = motion(t, leg, model.world)
    nose, wing, down = body_axes(attitude)
    along, across = reported_field(y[0], y[1], field_at(t, model.world), nose, wing, down, settings, model.pendulum)
    s = (y[SPIN], y[SPIN + 1], y[SPIN + 2])
    indicated = settings[SET_CARD] - spin_bearing(s, nose, wing, attitude[0], model.gimbals)
    return comparison(along, across, indicated, model.loop)


@kernel
def slaved_derivative(y: Floats, dy: Floats, surroundings: SlavedAround, settings: Floats, model: Slaved) -> None:
    """Write the time derivative of the slaved compass's state into `dy`."""
    around, field, nose, wing, heading, lateral, longitudinal = surroundings
    pendulum, loop = model.pendulum, model.loop
    stiffness = pendulum.natural_rate * pendulum.natural_rate
    drag = 2.0 * pendulum.damping * pendulum.natural_rate
    dy[0], dy[1] = y[2], y[3]
    dy[2] = -drag * y[2] - stiffness * (y[0] - lateral)
    dy[3] = -drag * y[3] - stiffness * (y[1] - longitudinal)
    along, across = reported_field(y[0], y[1], field, nose, wing, around[0], settings, pendulum)
    s = (y[SPIN], y[SPIN + 1], y[SPIN + 2])
    indicated = settings[SET_CARD] - spin_bearing(s, nose, wing, heading, model.gimbals)
    signal, difference = comparison(along, across, indicated, loop)
    demand = demanded_rate(signal, difference, settings, loop)
    direct = loop.textbook != 0.0 or loop.lag == 0.0
    correction = demand if direct else y[CORRECTION]
    dy[CORRECTION] = 0.0 if direct else (demand - y[CORRECTION]) / loop.lag
    dy[INDICATOR] = (indicator_drive(signal, settings, loop) - y[INDICATOR]) / loop.indicator_time
    rate = spin_derivative(s, around, correction, settings[SET_SLAVED_GYRO + GYRO_CASE], model.gimbals)
    dy[SPIN], dy[SPIN + 1], dy[SPIN + 2] = rate
