"""The slaving loop near its null against python-control: an integrator with a lag, closed.

The motor's rate over the signal is slow_rate/(sin band − sin dz) times the field's ratio, so the open loop is
k/(s(Ts + 1)) and the time constant is about 1/k: 40 s at the reference field (design value, derived).
"""

from __future__ import annotations

import math

import control
import numpy as np
import pytest

from gyrochalk.systems.instruments import Gyro, Loop
from gyrochalk.systems.places import Place, StatedField
from gyrochalk.systems.plans import FlightPlan, Stand
from gyrochalk.systems.run import Run
from gyrochalk.systems.setup import Setup
from gyrochalk.systems.simulate import simulate
from tests.outside.recording import Tell, tell

STEP_DEG = 0.5


def responded(loop: Loop, horizontal_ut: float) -> Run:
    """The slaved compass at rest, half a degree off, no disturbance: its small-signal step response."""
    setup = Setup(
        Place(52.0, 0.0),
        FlightPlan((Stand(300.0),), tas_kt=0.0),
        StatedField(horizontal_ut, 60.0),
        slaved_gyro=Gyro(start_error_deg=STEP_DEG),
        loop=loop,
        effects=frozenset({"levelling"}),
        sample_interval_s=0.5,
        tolerance_deg=1e-5,
    )
    return simulate(setup)


def closed(loop: Loop, horizontal_ut: float) -> control.TransferFunction:
    """From the detector to the heading shown, for small signals and no dead zone."""
    strength = horizontal_ut / loop.reference_field_ut
    gain = strength * math.radians(loop.slow_rate_deg_min) / 60.0 / math.sin(math.radians(loop.band_deg))
    return control.feedback(control.tf([gain], [loop.lag_s, 1.0, 0.0]))


@pytest.mark.parametrize("horizontal_ut", [20.0, 10.0, 35.0])
@pytest.mark.parametrize("lag_s", [0.5, 10.0])
def test_step_response(lag_s: float, horizontal_ut: float) -> None:
    """The whole response within 0.1 % of the step: sin differs from its angle by no more at half a degree."""
    loop = Loop(dead_zone_deg=0.0, lag_s=lag_s, automatic="never")
    run = responded(loop, horizontal_ut)
    expected = control.step_response(closed(loop, horizontal_ut), run.time_s)
    left_deg = STEP_DEG * (1.0 - np.asarray(expected.outputs))
    assert float(np.max(np.abs(run["slaved.error"].values - left_deg))) < 1e-3 * STEP_DEG


def test_time_constant_at_the_reference_field(record_property: Tell) -> None:
    """Fitted to the product's own response between 50 and 150 s; the slowest pole says the same."""
    loop = Loop(dead_zone_deg=0.0, automatic="never")
    run = responded(loop, loop.reference_field_ut)
    late = (run.time_s > 50.0) & (run.time_s < 150.0)
    slope, _ = np.polyfit(run.time_s[late], np.log(np.abs(run["slaved.error"].values[late])), 1)
    fitted_s = -1.0 / float(slope)
    slowest_s = -1.0 / max(pole.real for pole in control.poles(closed(loop, loop.reference_field_ut)))
    print(f"time constant {fitted_s:.3f} s, slowest pole {slowest_s:.3f} s")
    name = f"loop time constant at H_ref, {fitted_s:.2f} s, distance from the slowest pole"
    tell(record_property, name, abs(fitted_s - slowest_s), 0.1, "s", "python-control")
    assert fitted_s == pytest.approx(slowest_s, abs=0.1)
    assert fitted_s == pytest.approx(40.0, abs=1.0)


def test_the_loop_is_stable_with_room_to_spare() -> None:
    """Phase margin of the default loop in the strongest field there is, from the open loop."""
    loop = Loop(dead_zone_deg=0.0)
    gain = 70.0 / loop.reference_field_ut * math.radians(loop.slow_rate_deg_min) / 60.0
    open_loop = control.tf([gain / math.sin(math.radians(loop.band_deg))], [loop.lag_s, 1.0, 0.0])
    _, phase_margin_deg, _, _ = control.margin(open_loop)
    assert phase_margin_deg > 80.0
