"""The flight's closed forms against integration by hand, and the geometry of body axes and rates."""

from __future__ import annotations

import math

import numpy as np
import pytest
from scipy.integrate import solve_ivp
from scipy.spatial.transform import Rotation

from gyrochalk.physics.motion import GRAVITY, body_axes, body_rates, coordinated_heading, leg_motion
from gyrochalk.physics.world import (
    LEG_BANK,
    LEG_BANK_RATE,
    LEG_CLIMB,
    LEG_CLIMB_RATE,
    LEG_COLUMNS,
    LEG_HEADING,
    LEG_SPEED,
    LEG_SPEED_RATE,
    LEG_START,
    LEG_WIND_EAST,
    LEG_WIND_NORTH,
    LEG_YAW_RATE,
    Floats,
)

PIECES: dict[str, dict[int, float]] = {
    "straight": {},
    "rolling in": {LEG_BANK_RATE: 0.17},
    "rolling in to the left": {LEG_BANK_RATE: -0.06},
    "steady turn": {LEG_BANK: 0.4},
    "rolling out": {LEG_BANK: 0.4, LEG_BANK_RATE: -0.1},
    "steady turn while speeding up": {LEG_BANK: -0.3, LEG_SPEED_RATE: 1.5},
    "speeding up": {LEG_SPEED_RATE: 0.9},
    "climbing": {LEG_CLIMB: 0.1},
    "raising the nose": {LEG_CLIMB_RATE: 0.017},
    "taxiing round": {LEG_YAW_RATE: 0.05, LEG_SPEED: 8.0},
    "in a wind": {LEG_BANK: 0.2, LEG_WIND_NORTH: 5.0, LEG_WIND_EAST: -9.0},
}


def piece(name: str) -> Floats:
    """A row of the kernels' table."""
    row = np.zeros(LEG_COLUMNS)
    row[LEG_START], row[LEG_HEADING], row[LEG_SPEED] = 100.0, 1.0, 60.0
    for column, value in PIECES[name].items():
        row[column] = value
    return row


@pytest.mark.parametrize("name", PIECES)
def test_closed_form_is_the_integral_of_its_own_rates(name: str) -> None:
    """Heading from its rate, velocity from its acceleration, attitude from the body rates, over four seconds."""
    row = piece(name)
    attitude, rates, velocity, _ = leg_motion(100.0, row)

    def slopes(t: float, _state: Floats) -> list[float]:
        _, angle_rates, _, acceleration = leg_motion(t, row)
        return [*angle_rates, *acceleration]

    found = solve_ivp(slopes, (100.0, 104.0), [*attitude, *velocity], rtol=1e-11, atol=1e-12)
    after, _, moving, _ = leg_motion(104.0, row)
    np.testing.assert_allclose(found.y[:, -1], [*after, *moving], rtol=0.0, atol=1e-8)
    assert rates[1] == row[LEG_CLIMB_RATE]


@pytest.mark.parametrize("name", PIECES)
def test_heading_rate_is_that_of_a_coordinated_turn(name: str) -> None:
    """Heading rate = g tan(bank)/TAS, and apparent gravity has no part across the wings but for wind and taxiing."""
    row = piece(name)
    (_, _, bank), rates, _, _ = leg_motion(102.0, row)
    speed = row[LEG_SPEED] + 2.0 * row[LEG_SPEED_RATE]
    assert rates[0] == pytest.approx(GRAVITY * math.tan(bank) / speed + row[LEG_YAW_RATE])


@pytest.mark.parametrize("name", [n for n in PIECES if n not in ("taxiing round",)])
def test_a_coordinated_turn_keeps_apparent_gravity_in_the_plane_of_symmetry(name: str) -> None:
    attitude, _, _, acceleration = leg_motion(102.0, piece(name))
    _, wing, _ = body_axes(attitude)
    felt = np.array([0.0, 0.0, GRAVITY]) - np.array(acceleration)
    assert abs(float(felt @ np.array(wing))) < 1e-9


def test_rolling_in_is_the_closed_form_of_the_page() -> None:
    """ψ = g/(pV)(−ln cos(pt)), from wings level."""
    p, v, t = 0.12, 55.0, 3.0
    expected = GRAVITY / (p * v) * -math.log(math.cos(p * t))
    assert coordinated_heading(0.0, 0.0, p, v, 0.0, t) == pytest.approx(expected)


def test_body_axes_are_rz_ry_rx() -> None:
    """Body to NED = Rz(heading)·Ry(pitch)·Rx(bank), by scipy's rotations."""
    for heading, pitch, bank in [(0.3, 0.2, -0.5), (4.0, -0.4, 1.1), (6.2, 0.0, 0.0)]:
        expected = Rotation.from_euler("ZYX", [heading, pitch, bank]).as_matrix()
        np.testing.assert_allclose(np.array(body_axes((heading, pitch, bank))).T, expected, atol=1e-14)


def test_body_rates_turn_the_axes() -> None:
    """d/dt of each axis is ω × axis, ω from the body rates: by a central difference over a microsecond."""
    attitude, rates = np.array([1.2, 0.25, -0.6]), np.array([0.1, -0.05, 0.2])
    h = 1e-6
    before = np.array(body_axes(tuple(attitude - h * rates)))
    after = np.array(body_axes(tuple(attitude + h * rates)))
    axes = np.array(body_axes(tuple(attitude)))
    spin = np.array(body_rates(tuple(attitude), tuple(rates))) @ axes
    np.testing.assert_allclose((after - before) / (2.0 * h), np.cross(spin, axes), atol=1e-8)
