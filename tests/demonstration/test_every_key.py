"""Every key reaches the field it stands for, and every field of the instruments has a key."""

from __future__ import annotations

import dataclasses
import datetime
from pathlib import Path

import pytest

from gyrochalk.demonstration import load
from gyrochalk.demonstration.keys import DemonstrationKeys
from gyrochalk.demonstration.section import Section
from gyrochalk.demonstration.translation import sections
from gyrochalk.demonstration.values import Quantity
from gyrochalk.systems import actions, instruments, plans
from gyrochalk.systems.effects import FULL, TEXTBOOK
from gyrochalk.systems.places import ModelField, Place, StatedField
from gyrochalk.systems.setup import Setup

FILLED = [section for section in sections(DemonstrationKeys) if section.target is not None]
NOT_KEYS = {
    # Filled from other keys of the file than the group's own.
    "DirectCompass": {"magnetism"},
    "Detector": {"magnetism"},
    "Turn": {"by_deg", "to_heading_deg", "north", "direction"},
    "FlightPlan": {"heading_deg", "north", "wind_from_deg", "wind_kt"},
}


def setup_of(text: str) -> Setup:
    path = Path("demonstrations/all.yaml")
    path.write_text("gyrochalk: 1\n" + text, encoding="utf-8")
    return load(path).setup


@pytest.mark.parametrize("section", FILLED, ids=lambda section: section.__name__)
def test_every_field_has_a_key(section: type[Section]) -> None:
    target = section.target
    assert target is not None
    assert dataclasses.is_dataclass(target)
    fields = {field.name for field in dataclasses.fields(target)} - NOT_KEYS.get(target.__name__, set())
    assert fields - set(section.model_fields) == set()


def test_instruments(workspace: Path) -> None:
    setup = setup_of(
        """
compass: {moment: 0.2 A m2, period: 10 s, damping: 0.5, reference_field: 18 uT, reference_dip: 60 deg,
          residual_tilt: 3 deg, tilt_inertia: 0.8, tilt_damping: 0.6, fluid_time: 5 s, friction: 1 deg,
          friction_speed: 1 deg/s, tilt_stop: 20 deg, start_offset: 30 deg}
gyros: {drift: 12 deg/h, random_walk: 0.5 deg/sqrt(h), run_up: 30 s}
unslaved_gyro: {latitude_nut: 52.5 N, levelling: gravity, levelling_rate: 2 deg/min, levelling_band: 1 deg,
                stop: 60 deg}
slaved_gyro: {latitude_nut: off, spin_bearing: 045T, start_error: -90 deg, start_tilt: 5 deg, rotor_running: no,
              run_down: 4 min}
detector: {period: 2 s, damping: 0.4, freedom: 30 deg, leg_gains: {leg_2: 1.01}}
loop: {law: textbook, slow_rate: 2 deg/min, band: 3 deg, dead_zone: 0.2 deg, lag: 1 s, reference_field: 19 uT,
       fast_rate: 1 deg/s, large_error: 6 deg, settled: 0.5 deg, automatic: always, hold_rate: 10 deg/s,
       hold_band: 20 deg, slaved: no, cut_off: 1 deg/s, indicator_time: 2 s}
"""
    )
    assert setup.compass == instruments.DirectCompass(
        0.2, 10.0, 0.5, 18.0, 60.0, 3.0, 0.8, 0.6, 5.0, 1.0, 1.0, 20.0, 30.0
    )
    assert setup.gyro == instruments.Gyro(12.0, 0.5, 52.5, "gravity", 2.0, 1.0, 60.0, run_up_s=30.0)
    assert setup.slaved_gyro == instruments.Gyro(
        12.0, 0.5, None, "case", spin_bearing_true_deg=45.0, start_error_deg=-90.0, start_tilt_deg=5.0,
        rotor_running=False, run_up_s=30.0, run_down_s=240.0,
    )  # fmt: skip
    assert setup.detector == instruments.Detector(2.0, 0.4, 30.0, (1.0, 1.01, 1.0))
    assert setup.loop == instruments.Loop(
        2.0, 3.0, 0.2, 1.0, 19.0, 60.0, 6.0, 0.5, "always", 600.0, 20.0, slaved=False, cut_off_deg_s=1.0,
        indicator_time_s=2.0,
    )  # fmt: skip
    assert setup.loop_law == "textbook"


def test_place_field_iron_and_the_rest(workspace: Path) -> None:
    setup = setup_of(
        """
place: {name: Nowhere, latitude: 10 S, longitude: 20 W, height: 100 m}
date: 2020-06-30
earth: WGS-84
aircraft:
  compass: {hard_iron: {P: 1 uT, R: -2 uT}, soft_iron: {a: 0.01, k: -0.02}, loads: {pitot heat: {Q: 3 uT}}}
  detector: {hard_iron: {Q: 0.5 uT}}
seed: 7
sample: 0.2 s
tolerance: 0.001 deg
effects: {without: [noise]}
"""
    )
    assert setup.place == Place(-10.0, -20.0, 100.0 / 0.3048, "Nowhere")
    assert setup.field == ModelField(datetime.date(2020, 6, 30))
    assert setup.compass.magnetism == instruments.Magnetism(
        (1.0, 0.0, -2.0), ((0.01, 0.0, 0.0), (0.0, 0.0, 0.0), (0.0, 0.0, -0.02)), (("pitot heat", (0.0, 3.0, 0.0)),)
    )
    assert setup.detector.magnetism.hard_ut == (0.0, 0.5, 0.0)
    assert (setup.earth, setup.seed, setup.sample_interval_s, setup.tolerance_deg) == ("WGS-84", 7, 0.2, 0.001)
    assert setup.effects == FULL - {"noise"}


def test_stated_field(workspace: Path) -> None:
    assert setup_of("field: {horizontal: 19000 nT, dip: -67 deg, variation: 2 W}\n").field == StatedField(
        19.0, -67.0, -2.0
    )


def test_legs(workspace: Path) -> None:
    flight = setup_of(
        """
flight:
  heading: 045T
  speed: 0 kt
  wind: {from: 270, speed: 20 kt}
  legs:
    - stand: 1 min
    - accelerate: {by: 0.2 g, to: 100 kt}
    - taxi: {for: 10 s, turn: -20 deg}
    - hold: {for: 1 h 30 min}
    - turn: right 360 deg
    - turn: left to 090T
    - turn: {left: 30 deg, bank: 25 deg, roll_time: 4 s}
    - turn: {right_to: 010, rate: 1.5 deg/s, roll_rate: 5 deg/s}
    - turn: {to: 350}
    - climb: {at: 500 ft/min, to: 3000 ft}
    - descend: {at: 300 ft/min, for: 2 min}
    - accelerate: {by: -0.1 g, for: 5 s}
    - great_circle: 60 N 20 E
"""
    ).flight
    assert flight == plans.FlightPlan(
        (
            plans.Stand(60.0),
            plans.Accelerate(0.2, to_tas_kt=100.0),
            plans.Taxi(10.0, -20.0),
            plans.Hold(5400.0),
            plans.Turn(by_deg=360.0),
            plans.Turn(to_heading_deg=90.0, north="true", direction="left"),
            plans.Turn(by_deg=-30.0, bank_deg=25.0, roll_time_s=4.0),
            plans.Turn(to_heading_deg=10.0, direction="right", rate_deg_s=1.5, roll_rate_deg_s=5.0),
            plans.Turn(to_heading_deg=350.0),
            plans.Climb(500.0, to_height_ft=3000.0),
            plans.Climb(-300.0, duration_s=120.0),
            plans.Accelerate(-0.1, duration_s=5.0),
            plans.GreatCircle(60.0, 20.0),
        ),
        heading_deg=45.0,
        north="true",
        tas_kt=0.0,
        wind_from_deg=270.0,
        wind_kt=20.0,
    )


def test_actions_and_faults_in_order_of_time(workspace: Path) -> None:
    setup = setup_of(
        """
aircraft: {compass: {loads: {landing light: {P: 1 uT}}}}
actions:
  - {at: 1 min, set_gyro: compass}
  - {at: 10 s, hold_alignment: 30 s}
  - {at: 70 s, set_gyro: 045}
  - {at: 80 s, set_slaved_card: detector}
  - {at: 90 s, set_slaved_card: 300M}
  - {at: 100 s, select: free}
  - {at: 110 s, select: slaved}
  - {at: 120 s, latitude_nut: 40 S}
  - {at: 130 s, latitude_nut: off}
  - {at: 140 s, rotors: off}
  - {at: 150 s, switch_on: landing light}
  - {at: 160 s, switch_off: landing light}
faults:
  - {from: 2 min, until: 4 min, disturbance: {east: 5 uT, down: -1 uT}}
  - {from: 1 min, detector: leg dead}
  - {from: 3 min, detector: {kind: lines swapped, leg: 3}}
  - {from: 4 min, motor: stopped}
  - {from: 5 min, until: 6 min, drift: -30 deg/h}
"""
    )
    assert setup.actions == (
        actions.HoldToAlign(10.0, 30.0),
        actions.SetGyro(60.0),
        actions.SetGyro(70.0, 45.0),
        actions.ClutchToDetector(80.0),
        actions.ClutchToDetector(90.0, 300.0),
        actions.SetSlaving(100.0, slaved=False),
        actions.SetSlaving(110.0, slaved=True),
        actions.SetNut(120.0, -40.0),
        actions.SetNut(130.0, None),
        actions.SwitchRotor(140.0, on=False),
        actions.SwitchLoad(150.0, "landing light", on=True),
        actions.SwitchLoad(160.0, "landing light", on=False),
    )
    assert setup.faults == (
        actions.DetectorFault("leg dead", 60.0),
        actions.Disturbance(120.0, 240.0, (0.0, 5.0, -1.0)),
        actions.DetectorFault("lines swapped", 180.0, leg=3),
        actions.MotorStopped(240.0),
        actions.GyroDrift(300.0, -30.0, 360.0),
    )


@pytest.mark.parametrize(
    ("written", "effects", "law"),
    [
        ("full", FULL, "full"),
        ("textbook", TEXTBOOK, "textbook"),
        ("[earth rate, drift]", {"earth rate", "drift"}, "full"),
        ("{with: [earth rate]}", TEXTBOOK | {"earth rate"}, "full"),
        ("{without: [swirl, friction]}", FULL - {"swirl", "friction"}, "full"),
        ("textbook\nloop: {law: full}", TEXTBOOK, "full"),
    ],
)
def test_effects_and_the_loop_they_bring(workspace: Path, written: str, effects: set[str], law: str) -> None:
    setup = setup_of(f"effects: {written}\n")
    assert setup.effects == effects
    assert setup.loop_law == law


def test_words_that_yaml_would_turn_into_something_else(workspace: Path) -> None:
    setup = setup_of(
        "flight: {heading: 010, legs: [{hold: 1 min}]}\nloop: {slaved: off}\nslaved_gyro: {rotor_running: on}\n"
    )
    assert isinstance(setup.flight, plans.FlightPlan)
    assert setup.flight.heading_deg == 10.0
    assert (setup.loop.slaved, setup.slaved_gyro.rotor_running) == (False, True)


LIMITS = [
    (section, field.alias or name, value)
    for section in FILLED
    if section.__name__ in {"CompassKeys", "GyroKeys", "DetectorKeys", "LoopKeys"}
    for name, field in section.model_fields.items()
    for value in field.metadata
    if isinstance(value, Quantity)
]
GROUPS = {"CompassKeys": "compass", "GyroKeys": "gyros", "DetectorKeys": "detector", "LoopKeys": "loop"}
TOGETHER = {
    # Values that must stay in order with another one, moved along with it.
    ("dead_zone", "high"): ", band: 45 deg, hold_band: 60 deg",
    ("band", "low"): ", dead_zone: 0 deg",
    ("hold_band", "low"): ", dead_zone: 0 deg",
    ("large_error", "low"): ", settled: 0.01 deg",
    ("settled", "high"): ", large_error: 90 deg",
    ("stop", "low"): ", start_tilt: 0 deg",
}


@pytest.mark.parametrize(("section", "name", "value"), LIMITS, ids=lambda part: getattr(part, "__name__", str(part)))
@pytest.mark.parametrize("end", ["low", "high"])
def test_what_the_keys_allow_the_models_allow(
    workspace: Path, section: type[Section], name: str, value: Quantity, end: str
) -> None:
    number = value.high if end == "high" else value.low + (0.01 if value.above else 0.0)
    more = TOGETHER.get((name, end), "")
    setup_of(f"{GROUPS[section.__name__]}: {{{name}: {value.write(number)}{more}}}\n")
