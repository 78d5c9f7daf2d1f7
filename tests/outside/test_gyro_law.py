"""The product's law of the gyro against three solid bodies on the turning Earth (sympy, `reference/euler.py`)."""

from __future__ import annotations

import functools
import math

import numpy as np
import pytest

from gyrochalk.systems.instruments import Gyro
from gyrochalk.systems.places import Place, StatedField
from gyrochalk.systems.plans import FlightPlan, Stand
from gyrochalk.systems.scales import DEG_H_RAD_S
from gyrochalk.systems.setup import Setup
from gyrochalk.systems.simulate import simulate
from tests.outside.recording import Tell, tell
from tests.outside.reference.euler import MOMENTUM, Drift, drift

LATITUDE_RAD = math.radians(52.0)
DEG_H = 1.0 / DEG_H_RAD_S
DURATION_S = 0.5


def law(azimuth_deg: float, elevation_deg: float, drift_deg_h: float = 0.0) -> tuple[float, float]:
    """Azimuth and elevation rates [deg/h] of the product's gyro over half a second at rest at 52N, levelling off."""
    gyro = Gyro(
        drift_deg_h=drift_deg_h,
        levelling="none",
        spin_bearing_true_deg=azimuth_deg,
        start_tilt_deg=elevation_deg,
        stop_deg=89.0,
    )
    setup = Setup(
        Place(52.0, 0.0),
        FlightPlan((Stand(DURATION_S),), tas_kt=0.0),
        StatedField(19.0, 67.0),
        gyro=gyro,
        effects=frozenset({"earth rate", "drift"}),
        sample_interval_s=0.1,
        tolerance_deg=1e-8,
    )
    run = simulate(setup)
    rates = [np.polyfit(run.time_s, run[name].values, 1)[0] * 3600.0 for name in ("gyro.error", "gyro.tilt")]
    return -float(rates[0]), float(rates[1])


@functools.cache
def bodies(azimuth_deg: float, elevation_deg: float, drift_deg_h: float = 0.0) -> Drift:
    """The same by the bodies' own equations, the drift as a torque about the inner axis."""
    torque = -MOMENTUM * drift_deg_h * DEG_H_RAD_S
    azimuth, elevation = math.radians(azimuth_deg), math.radians(elevation_deg)
    return drift(LATITUDE_RAD, azimuth, elevation, about_inner_n_m=torque, duration_s=DURATION_S)


CASES = [
    (0.0, 0.0, 0.0),
    (90.0, 0.0, 0.0),
    (35.0, 20.0, 0.0),
    (140.0, -40.0, 0.0),
    (-75.0, 60.0, 0.0),
    (20.0, -30.0, 40.0),
]


@pytest.mark.parametrize(("azimuth_deg", "elevation_deg", "drift_deg_h"), CASES)
def test_law_moves_as_the_bodies_do(azimuth_deg: float, elevation_deg: float, drift_deg_h: float) -> None:
    found, expected = law(azimuth_deg, elevation_deg, drift_deg_h), bodies(azimuth_deg, elevation_deg, drift_deg_h)
    assert found[0] == pytest.approx(expected.azimuth_rad_s * DEG_H, abs=0.002)
    assert found[1] == pytest.approx(expected.elevation_rad_s * DEG_H, abs=0.002)


def test_wander_and_nutation_of_a_free_gyro_at_52n(record_property: Tell) -> None:
    """Row euler-52 (D, sympy): the bodies wander 11.8524 ± 0.001 °/h and nutate near 325 Hz; the law cannot."""
    free = drift(LATITUDE_RAD)
    apart = abs(free.azimuth_rad_s * DEG_H - law(0.0, 0.0)[0])
    print(
        f"bodies {free.azimuth_rad_s * DEG_H:.5f}, law {law(0.0, 0.0)[0]:.5f} °/h, nutation {free.nutation_hz:.0f} Hz"
    )
    tell(record_property, "free gyro at 52N: law against three bodies", apart, 0.001, "deg/h", "sympy")
    assert apart <= 0.001
    assert free.nutation_hz == pytest.approx(325.0, abs=3.0)
