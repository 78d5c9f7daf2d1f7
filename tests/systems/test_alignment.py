"""Automatic fast alignment: when it starts, when it ends, and what it does in a turn if it is always armed."""

from __future__ import annotations

import dataclasses

import numpy as np
import pytest
from tests.systems.bench import SLOW, at, between, in_flight, on_bench, simulate, told

from gyrochalk.systems.actions import Disturbance, HoldToAlign
from gyrochalk.systems.instruments import Gyro, Loop
from gyrochalk.systems.plans import Hold, Turn


def off(error_deg: float) -> Gyro:
    """A gyro that shows so much too much at switch-on."""
    return Gyro(start_error_deg=error_deg)


@pytest.mark.parametrize("error_deg", [90.0, -170.0, 5.5])
def test_a_large_error_at_switch_on_is_taken_out_fast(error_deg: float) -> None:
    """60 °/min from the first moment until no more than 0.25° is left, then slow for good."""
    run = simulate(on_bench(240.0, slaved_gyro=off(error_deg)))
    (start, end) = [(t, kind) for t, kind in told(run) if kind.startswith("fast")]
    assert start == (0.0, "fast starts")
    assert end[1] == "fast ends"
    assert abs(error_deg) - 3.0 < end[0] < abs(error_deg) + 8.0
    assert abs(at(run, "slaved.difference", end[0])) == pytest.approx(0.25, abs=0.01)
    assert set(between(run, "slaved.mode", end[0] + 0.01, 240.0)) == {1.0}
    assert [(s.kind, s.start_s) for s in run.spans] == [("fast alignment", 0.0)]


def test_a_small_error_is_taken_out_slowly() -> None:
    run = simulate(on_bench(60.0, slaved_gyro=off(4.9)))
    assert set(run["slaved.mode"].values) == {1.0}
    assert at(run, "slaved.error", 60.0) == pytest.approx(4.9 - 3.0, abs=0.05)


def test_never_means_never() -> None:
    run = simulate(on_bench(60.0, slaved_gyro=off(90.0), loop=SLOW))
    assert set(run["slaved.mode"].values) == {1.0}


DISTURBED = (Disturbance(60.0, 120.0, (0.0, 20.0, 0.0)),)


def test_after_switch_on_a_large_error_is_no_reason_to_hurry() -> None:
    """A field that turns the detector by 45° for a minute moves the card by 3°, not more."""
    run = simulate(on_bench(240.0, faults=DISTURBED))
    assert abs(at(run, "detector.error", 100.0)) == pytest.approx(45.0, abs=1e-6)
    assert float(np.max(np.abs(run["slaved.error"].values))) == pytest.approx(3.0, abs=0.1)


def test_always_armed_it_runs_after_any_disturbance() -> None:
    run = simulate(on_bench(240.0, faults=DISTURBED, loop=Loop(automatic="always")))
    assert float(np.max(np.abs(run["slaved.error"].values))) == pytest.approx(45.0, abs=0.5)
    kinds = [kind for _, kind in told(run) if kind.startswith("fast")]
    assert kinds == ["fast starts", "fast ends"] * 2
    starts = [t for t, kind in told(run) if kind == "fast starts"]
    assert starts == pytest.approx([60.0, 120.0], abs=0.01)


def test_always_armed_it_wrecks_the_heading_in_a_turn() -> None:
    """It chases the tilted detector: tens of degrees, where the slow loop alone stays within a few."""
    legs = (Hold(60.0), Turn(by_deg=360.0), Hold(10.0))
    armed = simulate(in_flight(*legs, loop=Loop(automatic="always")))
    slow = simulate(in_flight(*legs, loop=SLOW))
    worst = [float(np.max(np.abs(run["slaved.error"].values))) for run in (armed, slow)]
    print("armed", worst[0], "slow", worst[1])
    assert worst[0] > 20.0
    assert worst[1] < 4.0


def test_hold_interrupts_fast_alignment_which_goes_on_if_need_be() -> None:
    """Here the hold takes everything out, so that nothing is left for the fast rate."""
    run = simulate(on_bench(120.0, slaved_gyro=off(90.0), actions=(HoldToAlign(10.0, 15.0),)))
    assert told(run)[0] == (0.0, "fast starts")
    assert set(told(run)[1:3]) == {(10.0, "fast ends"), (10.0, "hold pressed")}
    assert abs(at(run, "slaved.error", 25.0)) < 0.3
    assert set(between(run, "slaved.mode", 25.0, 120.0)) == {1.0}


def test_aligned_is_told_once_when_the_card_comes_within_a_degree() -> None:
    run = simulate(on_bench(240.0, slaved_gyro=off(90.0)))
    (moment,) = [t for t, kind in told(run) if kind == "aligned"]
    assert abs(at(run, "slaved.difference", moment)) == pytest.approx(1.0, abs=0.1)
    near = simulate(on_bench(60.0, slaved_gyro=off(0.5)))
    assert told(near) == []


def test_textbook_loop_under_automatic_alignment_ends_at_its_null() -> None:
    """60 °/min, 90°: 90 s (common practice), and it stays."""
    setup = dataclasses.replace(
        on_bench(120.0, slaved_gyro=off(90.0)), loop_law="textbook", effects=frozenset({"drift", "levelling"})
    )
    run = simulate(setup)
    (end,) = [t for t, kind in told(run) if kind == "fast ends"]
    assert end == pytest.approx(90.0, abs=0.1)
    assert float(np.max(np.abs(between(run, "slaved.error", 91.0, 120.0)))) < 0.001
