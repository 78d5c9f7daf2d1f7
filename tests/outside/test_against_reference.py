"""The product's headings against a solution written apart from it: scipy's LSODA at 1e-10 on `reference/`.

The right-hand side there follows `docs/physics.md` and shares no code with the product.
"""

from __future__ import annotations

import dataclasses
import functools

import numpy as np
import pytest
from numpy.typing import NDArray

from gyrochalk.systems.instruments import Detector, DirectCompass, Gyro, Loop, Magnetism
from gyrochalk.systems.places import Place, StatedField
from gyrochalk.systems.plans import Accelerate, Climb, FlightPlan, Hold, Turn
from gyrochalk.systems.setup import Setup
from gyrochalk.systems.simulate import simulate
from tests.outside.recording import Tell, tell
from tests.outside.reference.bridge import THIRTY_MINUTES, setup_case
from tests.outside.reference.case import fly_reference

Floats = NDArray[np.float64]

HEADINGS = ("card.heading", "gyro.heading", "detector.heading", "slaved.heading")
INTERVAL_S = 1.0

SOUTHERN = Setup(
    place=Place(-35.0, 20.0),
    field=StatedField(23.0, -62.0, 8.0),
    flight=FlightPlan(
        legs=(
            Hold(60.0),
            Turn(by_deg=-120.0, rate_deg_s=3.0),
            Hold(90.0),
            Climb(-600.0, duration_s=120.0),
            Turn(by_deg=75.0, bank_deg=22.0, roll_time_s=3.0),
            Accelerate(0.05, duration_s=30.0),
            Hold(120.0),
        ),
        heading_deg=200.0,
        tas_kt=140.0,
        wind_from_deg=20.0,
        wind_kt=30.0,
    ),
    compass=DirectCompass(reference_dip_deg=62.0, reference_field_ut=23.0, magnetism=Magnetism((0.8, 0.6, -1.0))),
    gyro=Gyro(drift_deg_h=-6.0, nut_latitude_deg=-40.0, levelling="gravity"),
    slaved_gyro=Gyro(drift_deg_h=5.0, start_error_deg=-8.0, levelling="gravity", spin_bearing_true_deg=110.0),
)
"""The other hemisphere: north end of the field up, levelling to apparent gravity, a descent."""

WESTBOUND = Setup(
    place=Place(58.0, -10.0),
    field=StatedField(16.0, 71.0, -12.0),
    flight=FlightPlan(
        legs=(
            Hold(300.0),
            Turn(by_deg=40.0, bank_deg=25.0, roll_rate_deg_s=5.0),
            Hold(120.0),
            Turn(by_deg=-40.0, bank_deg=25.0, roll_rate_deg_s=5.0),
            Hold(300.0),
        ),
        heading_deg=270.0,
        north="true",
        tas_kt=250.0,
        wind_from_deg=300.0,
        wind_kt=60.0,
    ),
    detector=Detector(period_s=1.3, damping=0.4, freedom_deg=20.0),
    gyro=Gyro(nut_latitude_deg=58.0),
    slaved_gyro=Gyro(drift_deg_h=8.0),
    loop=Loop(slow_rate_deg_min=2.0, lag_s=1.0, automatic="never"),
)
"""Fast and far west in a weak, steep field, banks beyond the one at which card and detector hover."""


def orbit_from(heading_deg: float) -> Setup:
    """A rate-one circle with two straight minutes after it, every effect of the Earth on."""
    plan = FlightPlan((Hold(20.0), Turn(by_deg=360.0), Hold(120.0)), heading_deg=heading_deg, tas_kt=100.0)
    return Setup(Place(52.0, 0.0), plan, StatedField(19.0, 67.0))


CASES = {
    "half an hour with turns, a circle, a climb and accelerations": THIRTY_MINUTES,
    "southern hemisphere": SOUTHERN,
    "westbound at 250 kt": WESTBOUND,
    "a circle from 040": orbit_from(40.0),
    "a circle from 250": orbit_from(250.0),
}


@functools.cache
def both(case: str) -> tuple[dict[str, Floats], dict[str, Floats]]:
    """The product at its own default tolerance, and the reference, at the same times."""
    setup = dataclasses.replace(CASES[case], sample_interval_s=INTERVAL_S)
    run, reference = simulate(setup), fly_reference(setup_case(setup, INTERVAL_S))
    np.testing.assert_allclose(run.time_s, reference["time"], atol=1e-9)
    return {name: column.values for name, column in run.columns.items()}, reference


def apart_deg(a: Floats, b: Floats) -> float:
    """Greatest distance between two series of angles, the short way."""
    return float(np.max(np.abs((a - b + 180.0) % 360.0 - 180.0)))


def check_the_flight(ours: dict[str, Floats], reference: dict[str, Floats]) -> None:
    """Motion, place, field met and correction agree too; latitude to 3e-5° (three metres), as it is tabulated."""
    for channel in ("actual.heading", "actual.heading_true", "actual.bank", "actual.pitch"):
        assert apart_deg(ours[channel], reference[channel]) <= 1e-6, channel
    assert apart_deg(ours["actual.latitude"], reference["actual.latitude"]) <= 3e-5
    assert float(np.max(np.abs(ours["detector.field"] - reference["detector.field"]))) <= 1e-3
    assert float(np.max(np.abs(ours["slaved.correction"] - reference["slaved.correction"]))) <= 0.02


@pytest.mark.parametrize("case", CASES)
def test_headings_agree(case: str, record_property: Tell) -> None:
    ours, reference = both(case)
    apart = {channel: apart_deg(ours[channel], reference[channel]) for channel in HEADINGS}
    worst = max(apart.values())
    print(case, {channel: f"{value:.2e}" for channel, value in apart.items()})
    name = f"card, gyro, detector and slaved headings against LSODA: {case}"
    tell(record_property, name, worst, 0.005, "deg", "scipy LSODA at 1e-10, written apart")
    assert worst <= 0.005, apart
    check_the_flight(ours, reference)


def test_half_an_hour_is_not_easy() -> None:
    """Readings pass north and errors are large, so that agreement means something."""
    ours, _ = both("half an hour with turns, a circle, a climb and accelerations")
    assert float(np.ptp(ours["card.error"])) > 60.0
    assert float(np.ptp(ours["detector.error"])) > 40.0
    assert float(np.max(np.abs(ours["gyro.error"]))) > 1.5
    assert float(np.min(ours["card.heading"])) < 5.0
    assert float(np.max(ours["card.heading"])) > 355.0
