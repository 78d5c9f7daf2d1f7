"""The precession law of the directional gyro against the full equations of its three bodies, derived by sympy."""

from __future__ import annotations

import math

import pytest

from tests.outside.reference.earth import GRAVITY_M_S2
from tests.outside.reference.euler import MOMENTUM, Drift, drift
from tests.outside.reference.gyro import Gyro
from tests.outside.reference.motion import apparent_gravity, flight_segments, frame_rotation
from tests.outside.reference.vectors import DOWN, cross, dot, triad, unit

DEG_H = 180.0 / math.pi * 3600.0
AT_52N_RAD = math.radians(52.0)
SPIN_ONLY = frozenset({"earth rate", "drift", "levelling"})


def law(azimuth_rad: float, elevation_rad: float, drift_deg_h: float, levelling: str) -> tuple[float, float]:
    """Azimuth and elevation rates [rad/s] by s' = −ω × s + torques over momentum, at rest at 52N."""
    still = {"field": {}, "tas_kt": 0.0, "legs": [{"kind": "stand", "duration_s": 1.0}]}
    pose = flight_segments(still)[0].pose_at(0.0)
    frame = frame_rotation(pose, AT_52N_RAD, SPIN_ONLY)
    axis = triad(azimuth_rad, elevation_rad, 0.0).nose
    gyro = Gyro.build({"drift_deg_h": drift_deg_h, "levelling": levelling}, SPIN_ONLY)
    rate = gyro.axis_rate(axis, frame, pose, apparent_gravity(pose, AT_52N_RAD, SPIN_ONLY), 0.0)
    inner = unit(cross(DOWN, axis))
    return dot(rate, inner) / math.cos(elevation_rad), -dot(rate, DOWN) / math.cos(elevation_rad)


def test_apparent_gravity_at_rest_is_plain_gravity() -> None:
    still = {"field": {}, "tas_kt": 0.0, "legs": [{"kind": "stand", "duration_s": 1.0}]}
    felt = apparent_gravity(flight_segments(still)[0].pose_at(0.0), AT_52N_RAD, SPIN_ONLY)
    assert felt.tolist() == [0.0, 0.0, GRAVITY_M_S2]


def test_free_gyro_at_52n_wanders_as_the_table_says() -> None:
    """Row euler-52 of check_values.csv (D, sympy): 11.8524 ± 0.001 °/h, level, pointing north; nutation near 325 Hz."""
    bodies = drift(AT_52N_RAD)
    assert bodies.azimuth_rad_s * DEG_H == pytest.approx(11.8524, abs=0.001)
    assert bodies.nutation_hz == pytest.approx(325.0, abs=3.0)


@pytest.mark.parametrize(
    ("azimuth_deg", "elevation_deg"), [(0.0, 0.0), (90.0, 0.0), (35.0, 20.0), (140.0, -40.0), (-75.0, 60.0)]
)
def test_law_agrees_with_the_bodies_on_the_turning_earth(azimuth_deg: float, elevation_deg: float) -> None:
    bodies: Drift = drift(AT_52N_RAD, math.radians(azimuth_deg), math.radians(elevation_deg), duration_s=0.5)
    azimuth_rate, elevation_rate = law(math.radians(azimuth_deg), math.radians(elevation_deg), 0.0, "none")
    assert bodies.azimuth_rad_s * DEG_H == pytest.approx(azimuth_rate * DEG_H, abs=0.002)
    assert bodies.elevation_rad_s * DEG_H == pytest.approx(elevation_rate * DEG_H, abs=0.002)


@pytest.mark.parametrize("elevation_deg", [0.0, 20.0, -40.0])
def test_torque_about_the_inner_axis_moves_the_azimuth(elevation_deg: float) -> None:
    """A drift of +40 °/h is an inner torque of −h·rate: the azimuth falls (the reading rises) by rate/cos elevation."""
    torque = -MOMENTUM * 40.0 / DEG_H
    elevation_rad = math.radians(elevation_deg)
    bodies = drift(AT_52N_RAD, 0.0, elevation_rad, about_inner_n_m=torque, duration_s=0.5)
    azimuth_rate, _ = law(0.0, elevation_rad, 40.0, "none")
    assert bodies.azimuth_rad_s * DEG_H == pytest.approx(azimuth_rate * DEG_H, abs=0.002)


@pytest.mark.parametrize("elevation_deg", [1.0, -1.0])
def test_levelling_torque_about_the_outer_axis_brings_the_spin_axis_level(elevation_deg: float) -> None:
    """Compared near level only: the bodies rise at T/(h cos e), the law of the page at T cos e/h."""
    elevation_rad = math.radians(elevation_deg)
    torque = math.copysign(MOMENTUM * math.radians(3.0) / 60.0, elevation_deg)
    bodies = drift(AT_52N_RAD, 0.0, elevation_rad, about_outer_n_m=torque, duration_s=0.5)
    _, elevation_rate = law(0.0, elevation_rad, 0.0, "case")
    assert bodies.elevation_rad_s * elevation_deg < 0.0
    assert bodies.elevation_rad_s == pytest.approx(elevation_rate, rel=5e-4)
