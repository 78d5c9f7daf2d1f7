"""The planes a run records are those its instruments lie in, and the amplifier's demand is kept from the motor's."""

from __future__ import annotations

import functools

import numpy as np
import pytest
from tests.systems.bench import SLOW, at, between, in_flight, on_bench, simulate

from gyrochalk.systems.actions import MotorStopped, SetSlaving
from gyrochalk.systems.effects import FULL, TEXTBOOK
from gyrochalk.systems.instruments import Gyro
from gyrochalk.systems.plans import Hold, Turn
from gyrochalk.systems.run import Run

START_DEG = 10.0


@functools.cache
def turn() -> Run:
    """A coordinated turn without the Coriolis part of apparent gravity, slaved slowly."""
    legs = (Hold(5.0), Turn(120.0, bank_deg=20.0), Hold(20.0))
    return simulate(in_flight(*legs, heading_deg=START_DEG, effects=FULL - {"coriolis", "deviation"}, loop=SLOW))


def down_of(run: Run, plane: str) -> np.ndarray:
    """Unit downward normals (n, 3) of a recorded plane: ahead, right, down."""
    bank, pitch = (np.radians(run[f"{plane}_{axis}"].values) for axis in ("bank", "pitch"))
    normal = np.stack([np.tan(pitch), -np.tan(bank), np.ones_like(bank)], axis=1)
    return np.asarray(normal / np.linalg.norm(normal, axis=1)[:, None])


@pytest.mark.parametrize("instrument", ["card", "detector"])
def test_plane_s_two_angles_make_its_tilt(instrument: str) -> None:
    run = turn()
    tilt = np.degrees(np.arccos(np.clip(down_of(run, f"{instrument}.tilt")[:, 2], -1.0, 1.0)))
    assert tilt == pytest.approx(run[f"{instrument}.tilt"].values, abs=1e-4)


def test_detector_reads_the_field_in_the_plane_recorded() -> None:
    run = turn()
    psi, dip = (np.radians(run[name].values) for name in ("actual.heading", "field.dip"))
    level = run["field.horizontal"].values
    field = np.stack([level * np.cos(psi), -level * np.sin(psi), level * np.tan(dip)], axis=1)
    below = down_of(run, "detector.tilt")
    nose = np.array([1.0, 0.0, 0.0])
    x = nose - (below @ nose)[:, None] * below
    x /= np.linalg.norm(x, axis=1)[:, None]
    along, across = (field * x).sum(axis=1), (field * np.cross(below, x)).sum(axis=1)
    apart = np.degrees(np.arctan2(-across, along)) - run["detector.heading"].values
    assert np.abs((apart + 180.0) % 360.0 - 180.0).max() < 1e-6


def test_apparent_gravity_is_square_to_the_wings_in_a_coordinated_turn() -> None:
    run = turn()
    assert run["actual.load_bank"].values == pytest.approx(run["actual.bank"].values, abs=1e-6)
    assert run["actual.load_pitch"].values == pytest.approx(0.0, abs=1e-6)


def test_textbook_detector_lies_level_in_the_bank() -> None:
    legs = (Hold(5.0), Turn(90.0, bank_deg=20.0))
    run = simulate(in_flight(*legs, effects=TEXTBOOK, loop_law="textbook"))
    assert np.abs(run["detector.tilt_bank"].values).max() < 1e-9
    assert np.abs(run["actual.bank"].values).max() == pytest.approx(20.0)


def test_amplifier_asks_on_while_the_motor_stands() -> None:
    off = Gyro(start_error_deg=30.0)
    run = simulate(on_bench(60.0, loop=SLOW, slaved_gyro=off, faults=(MotorStopped(0.0),)))
    assert at(run, "slaved.demanded", 30.0) == pytest.approx(-SLOW.slow_rate_deg_min)
    assert at(run, "slaved.correction", 30.0) == 0.0


def test_correction_follows_the_demand_after_its_lag() -> None:
    run = simulate(on_bench(60.0, loop=SLOW, slaved_gyro=Gyro(start_error_deg=30.0)))
    assert between(run, "slaved.correction", 10.0, 50.0) == pytest.approx(between(run, "slaved.demanded", 10.0, 50.0))


def test_nothing_is_asked_of_a_motor_that_is_not_connected() -> None:
    run = simulate(on_bench(60.0, loop=SLOW, slaved_gyro=Gyro(start_error_deg=30.0), actions=(SetSlaving(0.0, False),)))
    assert np.abs(between(run, "slaved.demanded", 1.0, 60.0)).max() == 0.0
