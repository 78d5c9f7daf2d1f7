"""The flight: where the nose points, how the case turns, what the occupants are accelerated by.

Equations: heading rate = g tan(bank)/TAS; rolling in at p the heading is closed-form, ψ = g/(pV)(−ln cos(pt)).
"""

from __future__ import annotations

import math

from gyrochalk.physics.compiled import kernel
from gyrochalk.physics.world import (
    LEG_BANK,
    LEG_BANK_RATE,
    LEG_CLIMB,
    LEG_CLIMB_RATE,
    LEG_HEADING,
    LEG_KIND,
    LEG_SPEED,
    LEG_SPEED_RATE,
    LEG_START,
    LEG_WIND_EAST,
    LEG_WIND_NORTH,
    LEG_YAW_RATE,
    POLY_BANK,
    POLY_DOWN,
    POLY_EAST,
    POLY_HEADING,
    POLY_NORTH,
    POLY_PITCH,
    Floats,
    World,
)

GRAVITY = 9.80665
"""Standard gravity [m/s²]."""

Vector = tuple[float, float, float]
Motion = tuple[Vector, Vector, Vector, Vector]
"""Attitude (heading, pitch, bank) [rad], its rates [rad/s], ground velocity NED [m/s], its rate of change [m/s²]."""


@kernel
def coordinated_heading(
    heading: float, bank: float, bank_rate: float, speed: float, speed_rate: float, elapsed: float
) -> float:
    """Heading [rad] after `elapsed` s of a coordinated turn that began at `heading` with `bank`.

    Closed-form while the bank changes at constant speed, or the speed at constant bank; both at once is not flown.
    """
    if bank_rate != 0.0:
        swing = math.log(math.cos(bank) / math.cos(bank + bank_rate * elapsed))
        return heading + GRAVITY / (bank_rate * speed) * swing
    if bank == 0.0:
        return heading
    if speed_rate != 0.0:
        return heading + GRAVITY * math.tan(bank) / speed_rate * math.log(1.0 + speed_rate * elapsed / speed)
    return heading + GRAVITY * math.tan(bank) / speed * elapsed


@kernel
def leg_motion(t: float, row: Floats) -> Motion:
    """Motion at time `t` [s] along one smooth piece with constant rates."""
    elapsed = t - row[LEG_START]
    bank = row[LEG_BANK] + row[LEG_BANK_RATE] * elapsed
    climb = row[LEG_CLIMB] + row[LEG_CLIMB_RATE] * elapsed
    speed = row[LEG_SPEED] + row[LEG_SPEED_RATE] * elapsed
    heading = coordinated_heading(
        row[LEG_HEADING], row[LEG_BANK], row[LEG_BANK_RATE], row[LEG_SPEED], row[LEG_SPEED_RATE], elapsed
    )
    heading += row[LEG_YAW_RATE] * elapsed
    heading_rate = row[LEG_YAW_RATE]
    if bank != 0.0:
        heading_rate += GRAVITY * math.tan(bank) / speed
    cos_climb, sin_climb = math.cos(climb), math.sin(climb)
    cos_heading, sin_heading = math.cos(heading), math.sin(heading)
    level = speed * cos_climb
    level_rate = row[LEG_SPEED_RATE] * cos_climb - speed * row[LEG_CLIMB_RATE] * sin_climb
    velocity = (
        level * cos_heading + row[LEG_WIND_NORTH],
        level * sin_heading + row[LEG_WIND_EAST],
        -speed * sin_climb,
    )
    acceleration = (
        level_rate * cos_heading - level * heading_rate * sin_heading,
        level_rate * sin_heading + level * heading_rate * cos_heading,
        -row[LEG_SPEED_RATE] * sin_climb - speed * row[LEG_CLIMB_RATE] * cos_climb,
    )
    rates = (heading_rate, row[LEG_CLIMB_RATE], row[LEG_BANK_RATE])
    return (heading, climb, bank), rates, velocity, acceleration


@kernel
def knot_before(t: float, knots: Floats) -> int:
    """Index of the piece of `knots` that holds `t`."""
    low, high = 0, knots.shape[0] - 1
    while high - low > 1:
        middle = (low + high) // 2
        if knots[middle] <= t:
            low = middle
        else:
            high = middle
    return low


@kernel
def cubic(coefficients: Floats, piece: int, x: float) -> tuple[float, float]:
    """Value and slope of a piecewise cubic, coefficients (4, m) highest power first, at `x` past the knot."""
    c3, c2, c1, c0 = coefficients[0, piece], coefficients[1, piece], coefficients[2, piece], coefficients[3, piece]
    return ((c3 * x + c2) * x + c1) * x + c0, (3.0 * c3 * x + 2.0 * c2) * x + c1


@kernel
def recorded_motion(t: float, world: World) -> Motion:
    """Motion at time `t` [s] along a smoothed recording."""
    piece = knot_before(t, world.knots)
    x = t - world.knots[piece]
    heading, heading_rate = cubic(world.polynomials[POLY_HEADING], piece, x)
    pitch, pitch_rate = cubic(world.polynomials[POLY_PITCH], piece, x)
    bank, bank_rate = cubic(world.polynomials[POLY_BANK], piece, x)
    north, north_rate = cubic(world.polynomials[POLY_NORTH], piece, x)
    east, east_rate = cubic(world.polynomials[POLY_EAST], piece, x)
    down, down_rate = cubic(world.polynomials[POLY_DOWN], piece, x)
    return (
        (heading, pitch, bank),
        (heading_rate, pitch_rate, bank_rate),
        (north, east, down),
        (north_rate, east_rate, down_rate),
    )


@kernel
def motion(t: float, leg: int, world: World) -> Motion:
    """Motion at time `t` [s], which lies in piece `leg` of the flight."""
    row = world.legs[leg]
    if row[LEG_KIND] == 0.0:
        return leg_motion(t, row)
    return recorded_motion(t, world)


@kernel
def body_axes(attitude: Vector) -> tuple[Vector, Vector, Vector]:
    """Nose, right wing and down axes of the body in NED: the columns of Rz(heading)·Ry(pitch)·Rx(bank)."""
    heading, pitch, bank = attitude
    ch, sh = math.cos(heading), math.sin(heading)
    cp, sp = math.cos(pitch), math.sin(pitch)
    cb, sb = math.cos(bank), math.sin(bank)
    nose = (ch * cp, sh * cp, -sp)
    wing = (ch * sp * sb - sh * cb, sh * sp * sb + ch * cb, cp * sb)
    down = (ch * sp * cb + sh * sb, sh * sp * cb - ch * sb, cp * cb)
    return nose, wing, down


@kernel
def body_rates(attitude: Vector, rates: Vector) -> Vector:
    """Roll, pitch and yaw rates about the body's own axes [rad/s]."""
    pitch, bank = attitude[1], attitude[2]
    heading_rate, pitch_rate, bank_rate = rates
    level = heading_rate * math.cos(pitch)
    return (
        bank_rate - heading_rate * math.sin(pitch),
        pitch_rate * math.cos(bank) + level * math.sin(bank),
        level * math.cos(bank) - pitch_rate * math.sin(bank),
    )
