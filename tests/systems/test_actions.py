"""Each action of the crew does what it says, at its time, and is told."""

from __future__ import annotations

import dataclasses
import math

import numpy as np
import pytest
from tests.systems.bench import SLOW, at, between, in_flight, on_bench, simulate, texts, told

from gyrochalk.errors import MaterialError
from gyrochalk.systems.actions import (
    ClutchToDetector,
    HoldToAlign,
    SetGyro,
    SetNut,
    SetSlaving,
    SwitchLoad,
    SwitchRotor,
)
from gyrochalk.systems.effects import FULL
from gyrochalk.systems.instruments import Detector, DirectCompass, Gyro, Loop, Magnetism
from gyrochalk.systems.plans import Hold, Turn

QUARTER_OFF = Gyro(start_error_deg=90.0)


def test_holding_the_switch_swings_the_card_round_at_once() -> None:
    """900 °/min over 90° is 6 s and some settling; before it the slow rate, after it the slow rate again."""
    run = simulate(on_bench(slaved_gyro=QUARTER_OFF, loop=SLOW, actions=(HoldToAlign(30.0, 20.0),)))
    assert at(run, "slaved.error", 30.0) == pytest.approx(90.0 - 1.5, abs=0.05)
    assert abs(at(run, "slaved.error", 40.0)) < 0.2
    assert set(between(run, "slaved.mode", 30.0, 50.0)) == {3.0}
    assert set(between(run, "slaved.mode", 50.0, 120.0)) == {1.0}
    assert float(np.max(np.abs(between(run, "slaved.correction", 30.0, 50.0)))) == pytest.approx(900.0, rel=1e-3)
    assert told(run) == [(30.0, "hold pressed"), (pytest.approx(36.7, abs=0.2), "aligned"), (50.0, "hold released")]
    assert [(s.start_s, s.end_s, s.kind) for s in run.spans] == [(30.0, 50.0, "hold")]


def test_holding_works_when_free_and_leaves_it_free() -> None:
    loop = dataclasses.replace(SLOW, slaved=False)
    run = simulate(on_bench(slaved_gyro=QUARTER_OFF, loop=loop, actions=(HoldToAlign(30.0, 20.0),)))
    assert at(run, "slaved.error", 29.0) == pytest.approx(90.0, abs=1e-6)
    assert abs(at(run, "slaved.error", 45.0)) < 0.2
    assert set(between(run, "slaved.mode", 50.0, 120.0)) == {0.0}


def test_a_hold_that_outlasts_the_flight_ends_with_it() -> None:
    run = simulate(on_bench(actions=(HoldToAlign(100.0, 60.0),)))
    assert [(s.start_s, s.end_s) for s in run.spans if s.kind == "hold"] == [(100.0, 120.0)]
    assert [event.kind for event in run.events if event.kind.startswith("hold")] == ["hold pressed"]


def test_clutch_sets_the_card_to_the_detector_at_once() -> None:
    run = simulate(on_bench(slaved_gyro=QUARTER_OFF, loop=SLOW, actions=(ClutchToDetector(30.0),)))
    assert at(run, "slaved.error", 30.0) == pytest.approx(88.5, abs=0.05)
    assert abs(at(run, "slaved.error", 30.1)) < 0.05
    assert (30.0, "clutch") in told(run)


def test_clutch_sets_the_card_to_a_heading() -> None:
    loop = dataclasses.replace(SLOW, slaved=False)
    run = simulate(on_bench(loop=loop, actions=(ClutchToDetector(30.0, 123.0),)))
    assert at(run, "slaved.heading", 29.0) == pytest.approx(0.0, abs=1e-9)
    assert at(run, "slaved.heading", 31.0) == pytest.approx(123.0, abs=1e-9)


def test_free_and_slaved_are_selected() -> None:
    """Free, the card keeps what it shows with its drift; slaved, it comes back."""
    drifting = Gyro(drift_deg_h=60.0)
    actions = (SetSlaving(60.0, False), SetSlaving(180.0, True))
    run = simulate(on_bench(400.0, slaved_gyro=drifting, loop=SLOW, actions=actions))
    assert np.ptp(between(run, "slaved.error", 60.0, 180.0)) == pytest.approx(2.0, abs=0.01)
    assert set(between(run, "slaved.mode", 60.0, 180.0)) == {0.0}
    assert float(np.max(np.abs(between(run, "slaved.correction", 65.0, 180.0)))) < 1e-3
    assert abs(at(run, "slaved.error", 400.0)) < 0.9
    assert [kind for _, kind in told(run)][:2] == ["free", "slaved"]
    (span,) = [s for s in run.spans if s.kind == "free"]
    assert (span.start_s, span.end_s) == pytest.approx((60.0, 180.0), abs=0.11)


def test_gyro_is_set_to_the_compass_and_to_a_heading() -> None:
    iron = DirectCompass(magnetism=Magnetism((0.0, 2.0, 0.0)), friction_deg=0.0)
    actions = (SetGyro(30.0), SetGyro(60.0, 200.0))
    run = simulate(on_bench(90.0, 40.0, compass=iron, gyro=Gyro(start_error_deg=-20.0), actions=actions))
    assert at(run, "gyro.error", 30.0) == pytest.approx(-20.0, abs=1e-6)
    assert at(run, "gyro.heading", 31.0) == pytest.approx(at(run, "card.heading", 30.0), abs=0.01)
    assert abs(at(run, "card.error", 30.0)) > 3.0
    assert at(run, "gyro.heading", 61.0) == pytest.approx(200.0, abs=1e-6)
    assert texts(run, "gyro set") == ["unslaved gyro set to the direct compass", "unslaved gyro set to 200°"]
    assert at(run, "slaved.error", 61.0) == pytest.approx(0.0, abs=0.01)


def test_setting_a_gyro_in_a_turn_sets_it_to_a_wrong_compass() -> None:
    """What a class should see: the compass is tens of degrees out in the turn, and so is the gyro afterwards."""
    run = simulate(in_flight(Hold(10.0), Turn(by_deg=180.0), Hold(60.0), actions=(SetGyro(20.0),)))
    assert abs(at(run, "gyro.error", 19.9)) < 2.0
    assert abs(at(run, "gyro.error", float(run.time_s[-1]))) > 8.0


def test_latitude_nut_takes_the_earth_rate_away() -> None:
    """15.041 sin 52 °/h is 0.1975° a minute; set for the latitude it is none, off again it is back."""
    actions = (SetNut(600.0, 52.0), SetNut(1200.0, None))
    run = simulate(on_bench(1800.0, effects=FULL, actions=actions))
    steps = [at(run, "gyro.error", t) for t in (0.0, 600.0, 1200.0, 1800.0)]
    earth = -15.041 * math.sin(math.radians(52.0)) / 6.0
    assert np.diff(steps) == pytest.approx([earth, 0.0, earth], abs=0.002)
    assert texts(run, "nut set") == ["latitude nut set for 52°", "latitude nut off"]


def test_a_rotor_run_down_loses_hold_and_drifts_faster_on_the_way() -> None:
    """Torque rates go with 1/speed: at half speed the drift is twice what it was."""
    gyro = Gyro(drift_deg_h=60.0, run_down_s=100.0)
    run = simulate(on_bench(600.0, gyro=gyro, actions=(SwitchRotor(100.0, False),), sample_interval_s=0.5))
    rate = np.gradient(run["gyro.error"].values, run.time_s) * 3600.0
    half_s = 100.0 + 100.0 * math.log(2.0)
    assert float(rate[int(50.0 / 0.5)]) == pytest.approx(60.0, rel=1e-2)
    assert float(rate[round(half_s / 0.5)]) == pytest.approx(120.0, rel=0.02)
    stopped_s = 100.0 + 100.0 * math.log(20.0)
    assert float(np.ptp(between(run, "gyro.error", stopped_s + 1.0, 600.0))) < 1e-6
    assert texts(run, "rotor off") == ["gyro supply switched off"]


def test_a_gyro_that_stands_still_turns_with_the_aircraft_until_it_runs() -> None:
    """Its card shows the same heading through a turn; switched on, it holds from where it is."""
    gyro = Gyro(rotor_running=False, run_up_s=10.0)
    legs = (Hold(10.0), Turn(by_deg=90.0), Hold(30.0), Turn(by_deg=-90.0), Hold(20.0))
    run = simulate(in_flight(*legs, gyro=gyro, actions=(SwitchRotor(60.0, True),)))
    held = (between(run, "gyro.heading", 0.0, 60.0) + 180.0) % 360.0 - 180.0
    assert float(np.max(np.abs(held))) < 0.01
    assert at(run, "gyro.heading", float(run.time_s[-1])) == pytest.approx(270.0, abs=1.0)


def test_switching_the_supply_on_arms_automatic_alignment_again() -> None:
    gyro = Gyro(start_error_deg=0.0, run_down_s=5.0, run_up_s=5.0)
    actions = (
        SetSlaving(20.0, False),
        SwitchRotor(30.0, False),
        ClutchToDetector(90.0, 60.0),
        SwitchRotor(100.0, True),
    )
    run = simulate(on_bench(260.0, slaved_gyro=gyro, actions=(*actions, SetSlaving(101.0, True))))
    assert [kind for _, kind in told(run) if kind.startswith("fast")] == ["fast starts", "fast ends"]
    assert abs(at(run, "slaved.error", 260.0)) < 0.5


LOADS = Magnetism(loads_ut=(("landing light", (0.0, 1.0, 0.0)), ("pitot heat", (0.5, 0.0, 0.0))))


def test_a_load_bends_compass_and_detector_while_it_is_on() -> None:
    """1 µT to the right of a nose on north, in 20 µT: atan(1/20) = 2.86° of deviation; two loads add."""
    setup = on_bench(
        200.0,
        compass=DirectCompass(magnetism=LOADS, friction_deg=0.0),
        detector=Detector(magnetism=LOADS),
        actions=(
            SwitchLoad(60.0, "landing light", True),
            SwitchLoad(100.0, "pitot heat", True),
            SwitchLoad(140.0, "landing light", False),
        ),
    )
    run = simulate(setup)
    one, both = -math.degrees(math.atan(1.0 / 20.0)), -math.degrees(math.atan(1.0 / 20.5))
    readings = [at(run, "detector.error", t) for t in (59.0, 99.0, 139.0, 199.0)]
    assert readings == pytest.approx([0.0, one, both, 0.0], abs=1e-6)
    assert at(run, "card.error", 99.0) == pytest.approx(one, abs=0.05)
    assert [kind for _, kind in told(run)] == ["load on", "load on", "load off"]
    assert texts(run, "load on") == ["landing light switched on", "pitot heat switched on"]
    off = simulate(dataclasses.replace(setup, effects=setup.effects - {"deviation"}))
    assert at(off, "detector.error", 99.0) == pytest.approx(0.0, abs=1e-9)


def test_a_load_nobody_described_is_refused() -> None:
    with pytest.raises(MaterialError) as refusal:
        simulate(on_bench(detector=Detector(magnetism=LOADS), actions=(SwitchLoad(5.0, "radio", True),)))
    assert str(refusal.value) == (
        "there is no electrical load 'radio' to switch at 5 s; known loads are landing light, pitot heat; "
        "give the load its field under the magnetism of a mounting place  [load-unknown]"
    )


def test_actions_after_the_end_are_not_told() -> None:
    run = simulate(on_bench(60.0, actions=(SetGyro(100.0, 10.0), SetSlaving(200.0, False))))
    assert told(run) == []


def test_cut_off_interrupts_slaving_above_its_turn_rate() -> None:
    """In a rate-one turn with a cut-off of 1 deg/s the tilted detector is not followed."""
    legs = (Hold(30.0), Turn(by_deg=90.0), Hold(60.0))
    cut = simulate(in_flight(*legs, loop=dataclasses.replace(SLOW, cut_off_deg_s=1.0)))
    plain = simulate(in_flight(*legs, loop=SLOW))
    (span,) = [s for s in cut.spans if s.kind == "cut-off"]
    rate = cut["actual.turn_rate"].values
    assert np.interp(span.start_s, cut.time_s, rate) == pytest.approx(1.0, abs=0.02)
    assert np.interp(span.end_s, cut.time_s, rate) == pytest.approx(1.0, abs=0.02)
    assert set(between(cut, "slaved.mode", span.start_s + 0.1, span.end_s - 0.1)) == {0.0}
    assert [kind for _, kind in told(cut)] == ["turn starts", "cut-off starts", "cut-off ends", "turn ends"]
    (after_s,) = [event.time_s for event in cut.events if event.kind == "turn ends"]
    print("after the turn", at(cut, "slaved.error", after_s), at(plain, "slaved.error", after_s))
    assert abs(at(cut, "slaved.error", after_s)) < 0.6
    assert abs(at(plain, "slaved.error", after_s)) > 1.5


def test_no_cut_off_below_its_turn_rate() -> None:
    run = simulate(in_flight(Hold(5.0), Turn(by_deg=60.0, rate_deg_s=2.0), loop=Loop(cut_off_deg_s=2.5)))
    assert [s.kind for s in run.spans] == ["turn"]
