"""Each fault has its signature: what the detector then reports, what the card does, what the run says."""

from __future__ import annotations

import dataclasses
import math

import numpy as np
import pytest
from tests.systems.bench import SLOW, at, between, in_flight, on_bench, simulate, texts, told

from gyrochalk.systems.actions import DetectorFault, Disturbance, GyroDrift, MotorStopped, SetGyro
from gyrochalk.systems.effects import FULL
from gyrochalk.systems.instruments import Detector, Gyro
from gyrochalk.systems.plans import Hold, Turn
from gyrochalk.systems.run import Run

HEADING_DEG = 40.0


def faulty(kind: str, leg: int = 1, heading_deg: float = HEADING_DEG, until_s: float | None = None) -> Run:
    """The detector at rest on a heading with a fault from 60 s on."""
    fault = DetectorFault(kind, 60.0, until_s, leg)
    return simulate(on_bench(120.0, heading_deg, loop=SLOW, faults=(fault,)))


def reported(kind: str, leg: int, heading_deg: float) -> float:
    """What the detector reads with the fault, 0..360."""
    return at(faulty(kind, leg, heading_deg), "detector.heading", 90.0)


def near(heading_deg: float) -> object:
    """A heading to compare with, all but exactly."""
    return pytest.approx(heading_deg % 360.0, abs=1e-6)


@pytest.mark.parametrize("heading_deg", [10.0, 75.0, 160.0, 290.0])
def test_dead_leg_errs_by_up_to_thirty_degrees_twice_round(heading_deg: float) -> None:
    """tan ψ' = 3 tan ψ about the first leg's axis (closed form); ψ = −heading."""
    psi = math.radians(-heading_deg)
    expected = -math.degrees(math.atan2(3.0 * math.sin(psi), math.cos(psi)))
    assert reported("leg dead", 1, heading_deg) == near(expected)


@pytest.mark.parametrize("heading_deg", [10.0, 75.0, 160.0, 290.0])
def test_reversed_leg_and_swapped_lines_run_backwards(heading_deg: float) -> None:
    """tan ψ' = −3 tan ψ, and ψ' = −ψ for lines 2 and 3 swapped: look-alikes, both backwards (source: neets-15)."""
    psi = math.radians(-heading_deg)
    backwards = -math.degrees(math.atan2(3.0 * math.sin(psi), -math.cos(psi)))
    assert reported("leg reversed", 1, heading_deg) == near(backwards)
    assert reported("lines swapped", 1, heading_deg) == near(-heading_deg)


def test_swapped_lines_are_told_apart_by_the_constant() -> None:
    """Swapping other lines adds 120° or 240°: ψ' = −ψ + 2·(axis of the whole leg)."""
    for leg, constant in ((2, -240.0), (3, -480.0)):
        assert reported("lines swapped", leg, HEADING_DEG) == near(-HEADING_DEG + constant)


def test_open_line_leaves_two_readings_180_degrees_apart() -> None:
    """Line 1 open: 090 or 270, whatever the heading; the loop is pulled to one of them."""
    readings = {round(reported("line open", 1, h), 6) for h in (10.0, 80.0, 170.0, 190.0, 260.0, 350.0)}
    assert readings == {90.0, 270.0}
    run = simulate(on_bench(3600.0, 40.0, loop=SLOW, faults=(DetectorFault("line open", 60.0),)))
    assert at(run, "slaved.heading", 3600.0) == pytest.approx(90.0, abs=0.3)


def test_shorted_lines_leave_the_third_legs_axis() -> None:
    readings = {round(reported("lines shorted", 1, h) % 360.0, 6) for h in (10.0, 80.0, 170.0, 190.0, 260.0, 350.0)}
    assert readings == {0.0, 180.0}


def test_no_excitation_is_an_unslaved_gyro_with_a_dead_indicator() -> None:
    gyro = Gyro(drift_deg_h=60.0, start_error_deg=1.0)
    fault = DetectorFault("no excitation", 60.0)
    run = simulate(on_bench(360.0, loop=SLOW, slaved_gyro=gyro, faults=(fault,)))
    assert float(np.max(between(run, "detector.field", 61.0, 360.0))) == pytest.approx(0.0, abs=1e-9)
    assert float(np.max(np.abs(between(run, "slaved.indicator", 70.0, 360.0)))) < 1e-3
    assert float(np.max(np.abs(between(run, "slaved.correction", 70.0, 360.0)))) < 1e-3
    assert at(run, "slaved.error", 360.0) - at(run, "slaved.error", 120.0) == pytest.approx(4.0, abs=0.01)
    valid = run["detector.heading"].valid
    assert valid is not None
    assert not valid[run.time_s > 60.0].any()
    assert valid[run.time_s < 60.0].all()


def test_a_fault_that_ends_is_told_and_over() -> None:
    run = faulty("leg dead", until_s=90.0)
    assert told(run) == [(60.0, "fault starts"), (90.0, "fault ends")]
    assert [(s.start_s, s.end_s, s.kind, s.text) for s in run.spans] == [
        (60.0, 90.0, "fault", "detector leg 1 without voltage")
    ]
    assert abs(at(run, "detector.error", 80.0)) > 10.0
    assert at(run, "detector.error", 100.0) == pytest.approx(0.0, abs=1e-6)


@pytest.mark.parametrize(
    ("kind", "text"),
    [
        ("no excitation", "detector without excitation"),
        ("leg dead", "detector leg 2 without voltage"),
        ("leg reversed", "detector leg 2 reversed"),
        ("line open", "detector line 2 open"),
        ("lines shorted", "detector lines other than 2 shorted"),
        ("lines swapped", "detector lines other than 2 swapped"),
    ],
)
def test_faults_are_told_in_words(kind: str, text: str) -> None:
    assert texts(faulty(kind, 2), "fault starts") == [text]


def test_gain_spread_errs_twice_round() -> None:
    """1 % in one leg: 0.191° (closed form), at 45° from the leg's axis."""
    detector = Detector(leg_gains=(1.01, 1.0, 1.0))
    errors = [at(simulate(on_bench(1.0, h, detector=detector)), "detector.error", 0.0) for h in range(0, 360, 15)]
    assert max(errors) == pytest.approx(0.191, abs=0.002)
    assert min(errors) == pytest.approx(-0.191, abs=0.002)


def test_a_stopped_motor_leaves_the_comparison_alive() -> None:
    """Nothing moves the card, the indicator stays hard over."""
    fault = MotorStopped(60.0, 120.0)
    run = simulate(on_bench(180.0, loop=SLOW, slaved_gyro=Gyro(start_error_deg=30.0), faults=(fault,)))
    assert float(np.ptp(between(run, "slaved.error", 65.0, 120.0))) < 1e-3
    assert float(np.max(between(run, "slaved.indicator", 65.0, 120.0))) < -0.99
    assert set(between(run, "slaved.mode", 60.0, 120.0)) == {1.0}
    assert at(run, "slaved.error", 180.0) == pytest.approx(30.0 - 6.0, abs=0.1)
    assert texts(run, "fault starts") == ["correction motor stopped"]


def test_another_drift_is_taken_up_for_a_while() -> None:
    fault = GyroDrift(60.0, 60.0, 180.0)
    run = simulate(on_bench(300.0, gyro=Gyro(drift_deg_h=-12.0), faults=(fault,)))
    moments = [at(run, "gyro.error", t) for t in (0.0, 60.0, 180.0, 300.0)]
    assert np.diff(moments) == pytest.approx([-0.2, 2.0, -0.4], abs=1e-3)
    assert texts(run, "fault starts") == ["gyro drift 60°/h"]
    without = on_bench(300.0, faults=(fault,), effects=FULL - {"earth rate", "drift"})
    assert float(np.ptp(simulate(without)["gyro.error"].values)) < 1e-6


def test_drift_beyond_the_slaving_rate_breaks_away() -> None:
    """Hang-off grows with drift until drift exceeds the slow rate, 180 °/h here: then the card is carried off."""
    held = simulate(on_bench(1800.0, loop=SLOW, slaved_gyro=Gyro(drift_deg_h=150.0)))
    lost = simulate(on_bench(1800.0, loop=SLOW, slaved_gyro=Gyro(drift_deg_h=210.0)))
    assert float(np.max(np.abs(held["slaved.error"].values))) < 2.1
    assert at(lost, "slaved.error", 1800.0) > 12.0


def test_a_disturbance_adds_its_field_at_the_detector_alone() -> None:
    fault = Disturbance(60.0, 90.0, (0.0, 10.0, 0.0))
    run = simulate(on_bench(120.0, loop=SLOW, faults=(fault,)))
    assert at(run, "detector.error", 80.0) == pytest.approx(-math.degrees(math.atan(0.5)), abs=1e-6)
    assert at(run, "detector.error", 100.0) == pytest.approx(0.0, abs=1e-6)
    assert float(np.max(np.abs(run["card.error"].values))) < 0.1
    assert texts(run, "fault starts") == ["detector disturbed by 10.0 µT"]


def test_two_disturbances_add() -> None:
    faults = (Disturbance(10.0, 50.0, (0.0, 10.0, 0.0)), Disturbance(30.0, None, (0.0, -10.0, 0.0)))
    run = simulate(on_bench(60.0, loop=SLOW, faults=faults))
    assert at(run, "detector.error", 40.0) == pytest.approx(0.0, abs=1e-6)
    assert at(run, "detector.error", 55.0) == pytest.approx(math.degrees(math.atan(0.5)), abs=1e-6)


STEEP = (Hold(20.0), Turn(by_deg=180.0, bank_deg=60.0), Hold(40.0))
TILTED = Gyro(start_tilt_deg=40.0, levelling="none", spin_bearing_true_deg=90.0, stop_deg=60.0)


def test_a_steep_turn_topples_a_tilted_gyro() -> None:
    """The inner gimbal comes to its stop; from then on the gyro goes with the case and is marked so."""
    run = simulate(in_flight(*STEEP, gyro=TILTED, actions=(SetGyro(75.0),)))
    (toppled_s,) = [event.time_s for event in run.events if event.kind == "toppled"]
    assert texts(run, "toppled") == ["unslaved gyro toppled"]
    assert 20.0 < toppled_s < 30.0
    valid = run["gyro.heading"].valid
    assert valid is not None
    lost = (run.time_s > toppled_s) & (run.time_s <= 75.0)
    assert not valid[lost].any()
    assert valid[~lost].all()
    assert float(np.max(np.abs(between(run, "gyro.tilt", toppled_s, 75.0)))) == pytest.approx(60.0, abs=1e-3)
    assert run.provenance.warnings == (f"at {toppled_s:.1f} s: unslaved gyro toppled",)


def test_caging_brings_a_toppled_gyro_back() -> None:
    run = simulate(in_flight(*STEEP, gyro=TILTED, actions=(SetGyro(75.0, 180.0),)))
    end_s = float(run.time_s[-1])
    assert at(run, "gyro.heading", end_s) == pytest.approx(180.0, abs=0.1)
    assert abs(at(run, "gyro.tilt", end_s)) < 0.1


def test_a_level_gyro_survives_the_same_turn() -> None:
    run = simulate(in_flight(*STEEP, gyro=dataclasses.replace(TILTED, start_tilt_deg=0.0, stop_deg=85.0)))
    assert [kind for _, kind in told(run) if kind == "toppled"] == []
    assert run["gyro.heading"].valid is None
